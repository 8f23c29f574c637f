#include "loadlight/system/zone.h"

#include <date/tz.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <string_view>

namespace loadlight::system {
namespace {

using std::chrono::seconds;

core::CivilDate nearest_day(date::year_month_day day) {
  const int year = static_cast<int>(day.year());
  const auto date =
      core::CivilDate::from(year, static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
  if (date) return *date;
  return year < 1900 ? *core::CivilDate::from(1900, 1, 1) : *core::CivilDate::from(9999, 12, 31);
}

date::sys_days first_of_march(date::year year) {
  return date::sys_days{year / date::March / 1};
}

// The database's compiled files (and date-tz's reading of them) list transitions up to 2037, though summer times
// go on. A later instant takes its offset from a year whose March begins on the same weekday: the rules speak
// of weekdays of months, and between 2026 and 2036 every weekday is met.
date::sys_seconds listed_twin(date::sys_seconds t) {
  constexpr date::year kFirst{2026}, kLast{2036};
  if (t < first_of_march(kLast + date::years{1})) return t;
  date::year year = date::year_month_day{date::floor<date::days>(t)}.year();
  if (t < first_of_march(year)) --year;
  const date::sys_days march = first_of_march(year);
  for (date::year twin = kLast; twin >= kFirst; --twin) {
    const date::sys_days same = first_of_march(twin);
    if (date::weekday{same} == date::weekday{march}) return t - (march - same);
  }
  return t;
}

class IanaZone final : public port::Zone {
 public:
  IanaZone(std::string name, const date::time_zone* zone) : name_(std::move(name)), zone_(zone) {}

  core::CivilDate local_date(core::Instant t) const override {
    return nearest_day(date::year_month_day{date::floor<date::days>(local(t))});
  }

  std::string local_text(core::Instant t) const override {
    const auto here = local(t);
    const auto midnight = date::floor<date::days>(here);
    const date::hh_mm_ss<seconds> clock{here - midnight};
    std::array<char, 8> time{};
    std::snprintf(time.data(), time.size(), " %02u:%02u", static_cast<unsigned>(clock.hours().count()) % 24,
                  static_cast<unsigned>(clock.minutes().count()) % 60);
    return local_date(t).iso() + time.data();
  }

  std::string name() const override { return name_; }

 private:
  date::local_seconds local(core::Instant t) const {
    const date::sys_seconds second{std::chrono::floor<seconds>(t.time_since_epoch())};
    return date::local_seconds{second.time_since_epoch() + zone_->get_info(listed_twin(second)).offset};
  }

  std::string name_;
  const date::time_zone* zone_;  // belongs to the library's database, which lives as long as the process
};

core::Failure zone_unknown(const std::string& name) {
  return {core::FailureCode::ZoneUnknown, {{"zone", name}}, {}};
}

// $TZ as a name, with or without its colon; empty when it is unset or no name of the database.
std::string zone_of_environment() {
  const char* value = std::getenv("TZ");
  std::string_view name = value != nullptr ? value : "";
  if (!name.empty() && name.front() == ':') name.remove_prefix(1);
  const std::string asked{name};
  return !asked.empty() && open_zone(asked) ? asked : std::string{};
}

// Not the abbreviations and the fixed offsets that the database also lists.
constexpr std::string_view kRegions[] = {"Africa/",  "America/", "Antarctica/", "Arctic/", "Asia/",
                                         "Atlantic/", "Australia/", "Europe/", "Indian/", "Pacific/"};

bool names_a_place(std::string_view name) {
  return name == "UTC" || std::any_of(std::begin(kRegions), std::end(kRegions),
                                      [name](std::string_view region) { return name.starts_with(region); });
}

}  // namespace

// date-tz's one way in lists the whole database (about 650 stat calls, 3 ms) before it reads one zone.
core::Result<std::unique_ptr<port::Zone>> open_zone(const std::string& name) {
  try {
    const date::time_zone* zone = date::locate_zone(name);
    zone->get_info(date::sys_seconds{});  // reads the zone's file now, where a failure can be told
    return std::unique_ptr<port::Zone>{std::make_unique<IanaZone>(name, zone)};
  } catch (const std::exception&) {
    return zone_unknown(name);
  }
}

std::vector<std::string> zone_names() {
  std::vector<std::string> names;
  try {
    for (const date::time_zone& zone : date::get_tzdb().zones) {
      if (names_a_place(zone.name())) names.push_back(zone.name());
    }
  } catch (const std::exception&) {
    return {};
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string system_zone_name() {
  if (auto name = zone_of_environment(); !name.empty()) return name;
  try {
    return date::current_zone()->name();
  } catch (const std::exception&) {
    return "UTC";
  }
}

}  // namespace loadlight::system
