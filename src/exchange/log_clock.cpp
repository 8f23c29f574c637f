#include "log_clock.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "loadlight/core/dates.h"
#include "log_number.h"

namespace loadlight::exchange {
namespace {

constexpr double kHour = 3600;
constexpr double kDay = 24 * kHour;

char point_of(LogDecimal decimal) {
  return decimal == LogDecimal::Comma ? ',' : '.';
}

// "12", "2:30", "1:02:30,5": the parts between colons, the last one with decimals. `count` of them are in
// use.
struct Parts final {
  std::array<double, 3> values{};
  int count = 0;
};
std::optional<Parts> parse_parts(std::string_view text, char point) {
  Parts parts;
  for (;;) {
    const std::size_t colon = text.find(':');
    const bool last = colon == std::string_view::npos;
    // A part that others follow is whole: no character can be its point.
    const auto value = parse_decimal(text.substr(0, colon), last ? point : '\0');
    const bool is_signed = !text.empty() && (text.front() == '-' || text.front() == '+');
    if (!value || is_signed || parts.count == 3) return std::nullopt;
    parts.values[static_cast<std::size_t>(parts.count++)] = *value;
    if (last) return parts;
    text.remove_prefix(colon + 1);
  }
}

bool are_sexagesimal(const Parts& parts) {
  return std::all_of(parts.values.begin() + 1, parts.values.begin() + parts.count,
                     [](double value) { return value < 60; });
}

double summed(const Parts& parts, double first_unit) {
  double seconds = 0;
  for (int i = 0; i < parts.count; ++i) {
    seconds += parts.values[static_cast<std::size_t>(i)] * first_unit;
    first_unit /= 60;
  }
  return seconds;
}

// Of `count` parts exactly; `first_unit` seconds is what the first counts.
std::optional<double> elapsed(std::string_view text, char point, int count, double first_unit) {
  const auto parts = parse_parts(text, point);
  if (!parts || parts->count != count || !are_sexagesimal(*parts)) return std::nullopt;
  return summed(*parts, first_unit);
}

enum class DayHalf { None, Morning, Afternoon };

// Takes " AM" or "pm" off the end.
DayHalf take_half(std::string_view& text) {
  if (text.size() < 2 || (text.back() != 'M' && text.back() != 'm')) return DayHalf::None;
  const char letter = text[text.size() - 2];
  const bool morning = letter == 'A' || letter == 'a';
  if (!morning && letter != 'P' && letter != 'p') return DayHalf::None;
  text = without_spaces(text.substr(0, text.size() - 2));
  return morning ? DayHalf::Morning : DayHalf::Afternoon;
}

// hh:mm or hh:mm:ss, of 24 hours or of 12 with AM or PM.
std::optional<double> time_of_day(std::string_view text, char point) {
  const DayHalf half = take_half(text);
  auto parts = parse_parts(text, point);
  if (!parts || parts->count < 2 || !are_sexagesimal(*parts)) return std::nullopt;
  double& hour = parts->values[0];
  if (half != DayHalf::None) {
    if (!(hour >= 1 && hour <= 12)) return std::nullopt;
    hour = (hour == 12 ? 0 : hour) + (half == DayHalf::Afternoon ? 12 : 0);
  }
  return hour < 24 ? std::optional{summed(*parts, kHour)} : std::nullopt;
}

std::array<std::size_t, 3> places_of(LogDateOrder order) {
  switch (order) {
    case LogDateOrder::YearMonthDay:
      return {0, 1, 2};
    case LogDateOrder::DayMonthYear:
      return {2, 1, 0};
    case LogDateOrder::MonthDayYear:
      return {2, 0, 1};
  }
  return {0, 1, 2};
}

// Seconds of 1970's clock at the day's beginning. Parts between ".", "-" or "/"; years of four digits.
std::optional<double> day_start(std::string_view text, LogDateOrder order) {
  std::array<int, 3> parts{};
  std::size_t part = 0;
  std::size_t digits = 0;
  for (char c : text) {
    if (c >= '0' && c <= '9' && digits < 4) {
      parts[part] = parts[part] * 10 + (c - '0');
      ++digits;
    } else if ((c == '.' || c == '-' || c == '/') && part < 2 && digits > 0) {
      ++part;
      digits = 0;
    } else {
      return std::nullopt;
    }
  }
  if (part != 2 || digits == 0) return std::nullopt;
  const auto place = places_of(order);
  const auto day = core::CivilDate::from(parts[place[0]], static_cast<unsigned>(parts[place[1]]),
                                         static_cast<unsigned>(parts[place[2]]));
  const auto epoch = core::CivilDate::from(1970, 1, 1);
  if (!day) return std::nullopt;
  return epoch->days_until(*day) * kDay;
}

std::optional<double> moment(std::string_view date, std::string_view time, const LogMapping& mapping) {
  const auto day = day_start(date, mapping.date_order);
  const auto clock = time_of_day(time, point_of(mapping.decimal));
  if (!day || !clock) return std::nullopt;
  return *day + *clock;
}

}  // namespace

std::optional<double> parse_log_time(std::string_view time, std::string_view date,
                                     const LogMapping& mapping) {
  const char point = point_of(mapping.decimal);
  switch (mapping.time_form) {
    case LogTimeForm::Seconds:
      return elapsed(time, point, 1, 1);
    case LogTimeForm::Minutes:
      return elapsed(time, point, 1, 60);
    case LogTimeForm::MinutesSeconds:
      return elapsed(time, point, 2, 60);
    case LogTimeForm::HoursMinutesSeconds:
      return elapsed(time, point, 3, kHour);
    case LogTimeForm::Clock:
      return mapping.date ? moment(date, time, mapping) : time_of_day(time, point);
    case LogTimeForm::DateClock: {
      const std::size_t gap = time.find_first_of(" T");
      if (gap == std::string_view::npos) return std::nullopt;
      return moment(time.substr(0, gap), without_spaces(time.substr(gap + 1)), mapping);
    }
  }
  return std::nullopt;
}

LogStep LogClock::take(double written) {
  written += midnights_;
  if (!started_) {
    started_ = true;
    written_ = written;
    seconds_ = is_clock() ? 0 : written;
    return LogStep::First;
  }
  double step = written - written_;
  const bool undated = mapping_.time_form == LogTimeForm::Clock && !mapping_.date;
  const bool midnight = undated && step < -kDay / 2;
  if (midnight) step += kDay;
  const auto credited = over_clock_change(step);
  if (credited) step = *credited;
  if (step <= 0) return step == 0 ? LogStep::Same : LogStep::Back;
  if (midnight) midnights_ += kDay;
  written_ = midnight ? written + kDay : written;
  seconds_ = is_clock() ? seconds_ + step : written_;
  clock_changed_ = clock_changed_ || credited;
  if (credited) return LogStep::ClockChange;
  return midnight ? LogStep::Midnight : LogStep::Forward;
}

// A local clock put on or back by an hour between two rows, in the hours when that is done (23:00 to 04:00)
// and once a log: then what the row before was followed by is one interval, and no more is credited.
std::optional<double> LogClock::over_clock_change(double step) const {
  if (!is_clock() || mapping_.zone != LogZone::Local || clock_changed_) return std::nullopt;
  const double clock = std::fmod(written_, kDay);
  if (clock > 4 * kHour && clock < 23 * kHour) return std::nullopt;
  for (double hour : {kHour, -kHour}) {
    const double real = step - hour;
    if (real > 0 && real <= 2 * mapping_.nominal_seconds) return std::min(real, mapping_.nominal_seconds);
  }
  return std::nullopt;
}

}  // namespace loadlight::exchange
