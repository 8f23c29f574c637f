// The two kinds of time a rule may see. A third, durations, is std::chrono's.
//
//   Instant    when something happened: UTC, milliseconds since 1970-01-01, never local.
//   CivilDate  a day of the calendar, as printed on a label: no clock, no zone.
//
// The way from one to the other needs a time zone and lives behind port::Zone.
#pragma once

#include <chrono>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace loadlight::core {

using Instant = std::chrono::sys_time<std::chrono::milliseconds>;
using Minutes = std::chrono::minutes;

constexpr std::int64_t to_milliseconds(Instant t) { return t.time_since_epoch().count(); }
constexpr Instant instant_from(std::int64_t milliseconds) {
  return Instant{std::chrono::milliseconds{milliseconds}};
}

// "2026-11-25T14:03:07Z"; fractions of a second are cut.
std::string to_text(Instant t);

// A day of the proleptic Gregorian calendar, years 1900 to 9999 inclusive; always a real day.
class CivilDate final {
 public:
  static std::optional<CivilDate> from(int year, unsigned month, unsigned day);
  static std::optional<CivilDate> parse_basic(std::string_view text);  // exactly "YYYYMMDD"
  static std::optional<CivilDate> parse_iso(std::string_view text);    // exactly "YYYY-MM-DD"

  CivilDate plus_days(int days) const;
  // The same day of a later month; past that month's end, its last day (31 January + 1 = 28 or 29
  // February).
  CivilDate plus_months(int months) const;
  // Days from this day to `later`; negative when `later` is earlier.
  int days_until(CivilDate later) const;

  std::string basic() const;  // "20261125"
  std::string iso() const;    // "2026-11-25"
  std::chrono::year_month_day calendar() const { return std::chrono::year_month_day{day_}; }

  friend bool operator==(CivilDate a, CivilDate b) { return a.day_ == b.day_; }
  friend auto operator<=>(CivilDate a, CivilDate b) { return a.day_ <=> b.day_; }

 private:
  explicit CivilDate(std::chrono::sys_days day) : day_(day) {}
  std::chrono::sys_days day_;
};

}  // namespace loadlight::core
