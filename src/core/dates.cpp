#include "loadlight/core/dates.h"

#include <algorithm>
#include <array>
#include <cstdio>

namespace loadlight::core {
namespace {

using namespace std::chrono;

constexpr sys_days kFirst = year{1900} / 1 / 1;
constexpr sys_days kLast = year{9999} / 12 / 31;

std::optional<unsigned> digits(std::string_view text) {
  unsigned value = 0;
  for (char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + static_cast<unsigned>(c - '0');
  }
  return value;
}

std::string print(const char* format, year_month_day ymd) {
  std::array<char, 16> out{};
  std::snprintf(out.data(), out.size(), format, static_cast<int>(ymd.year()),
                static_cast<unsigned>(ymd.month()), static_cast<unsigned>(ymd.day()));
  return out.data();
}

}  // namespace

// An instant outside the calendar's years, as an altered record may hold, is told as the nearest within.
std::string to_text(Instant t) {
  t = std::clamp(t, Instant{kFirst}, Instant{kLast + days{1}} - milliseconds{1});
  const auto day = floor<days>(t);
  const hh_mm_ss clock{floor<seconds>(t - day)};
  std::array<char, 16> out{};
  std::snprintf(out.data(), out.size(), "T%02d:%02d:%02dZ", static_cast<int>(clock.hours().count()),
                static_cast<int>(clock.minutes().count()), static_cast<int>(clock.seconds().count()));
  return print("%04d-%02u-%02u", year_month_day{day}) + out.data();
}

std::optional<CivilDate> CivilDate::from(int y, unsigned m, unsigned d) {
  if (y < 1900 || y > 9999) return std::nullopt;
  const year_month_day ymd = year{y} / month{m} / day{d};
  if (!ymd.ok()) return std::nullopt;
  return CivilDate{sys_days{ymd}};
}

std::optional<CivilDate> CivilDate::parse_basic(std::string_view text) {
  if (text.size() != 8) return std::nullopt;
  const auto y = digits(text.substr(0, 4));
  const auto m = digits(text.substr(4, 2));
  const auto d = digits(text.substr(6, 2));
  if (!y || !m || !d) return std::nullopt;
  return from(static_cast<int>(*y), *m, *d);
}

std::optional<CivilDate> CivilDate::parse_iso(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  return parse_basic(std::string{text.substr(0, 4)}.append(text.substr(5, 2)).append(text.substr(8, 2)));
}

CivilDate CivilDate::plus_days(int count) const {
  return CivilDate{std::clamp(day_ + days{count}, kFirst, kLast)};
}

CivilDate CivilDate::plus_months(int count) const {
  const year_month_day from = calendar();
  const year_month target = from.year() / from.month() + months{count};
  const year_month_day_last last = target / std::chrono::last;
  return CivilDate{std::clamp(sys_days{target / std::min(from.day(), last.day())}, kFirst, kLast)};
}

int CivilDate::days_until(CivilDate later) const {
  return static_cast<int>((later.day_ - day_).count());
}

std::string CivilDate::basic() const { return print("%04d%02u%02u", calendar()); }
std::string CivilDate::iso() const { return print("%04d-%02u-%02u", calendar()); }

}  // namespace loadlight::core
