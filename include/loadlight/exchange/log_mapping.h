// A mapping says how the log of one make of sterilizer is to be read: a small file of lines, described in
// templates/mappings/README.md.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/cycle.h"
#include "loadlight/core/result.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::exchange {

enum class LogEncoding { Utf8, Latin1 };
enum class LogSeparator { Comma, Semicolon, Tab, Bar, Space };  // Space: one or more
enum class LogDecimal { Point, Comma };
enum class LogHeader { Yes, No };
// Seconds to HoursMinutesSeconds: elapsed. Clock: time of day; DateClock: a date before it in one cell.
enum class LogTimeForm { Seconds, Minutes, MinutesSeconds, HoursMinutesSeconds, Clock, DateClock };
enum class LogDateOrder { YearMonthDay, DayMonthYear, MonthDayYear };
// Of clock times. Local ones may jump by an hour in the small hours, once a log (LogSummary).
enum class LogZone { Local, Utc };
enum class TemperatureUnit { Celsius, Fahrenheit };
enum class PressureUnit { Kilopascal, Bar, Millibar, Psi };
enum class PressureReference { Absolute, Gauge };

// A column by its number, from 1, or by its name in the header; and what stands around its values, as in
// "T=134.2C".
struct LogColumn final {
  int number = 0;  // 0: by name
  std::string name;
  std::string before, after;  // the value; empty: nothing

  friend bool operator==(const LogColumn&, const LogColumn&) = default;
};

struct LogMapping final {
  LogEncoding encoding = LogEncoding::Utf8;
  LogSeparator separator = LogSeparator::Comma;
  LogDecimal decimal = LogDecimal::Point;
  int skipped_lines = 0;  // before the header or the first row
  LogHeader header = LogHeader::Yes;
  std::vector<std::string> ignored_starts;  // lines that begin with one of them say nothing
  LogColumn time;
  LogTimeForm time_form = LogTimeForm::Seconds;
  LogZone zone = LogZone::Local;
  std::optional<LogColumn> date;  // of clock times, when it stands in a column of its own
  LogDateOrder date_order = LogDateOrder::YearMonthDay;
  LogColumn temperature;
  TemperatureUnit temperature_unit = TemperatureUnit::Celsius;
  std::optional<LogColumn> pressure;  // none: the log has no pressure
  PressureUnit pressure_unit = PressureUnit::Kilopascal;
  PressureReference pressure_reference = PressureReference::Absolute;
  double barometric_kpa = core::kStandardBarometricKpa;  // at the site; added to gauge pressures
  double nominal_seconds = 1;                            // between two rows: over 0, at most 60

  friend bool operator==(const LogMapping&, const LogMapping&) = default;
};

inline constexpr std::size_t kLargestMapping = 16u << 10;  // bytes

// BadTemplate (details: template, the given name; line, left out for the whole file; problem; what).
core::Result<LogMapping> parse_mapping(std::string_view name, std::string_view text);

double to_celsius(double value, TemperatureUnit unit);
double to_kpa_abs(double value, const LogMapping& mapping);

}  // namespace loadlight::exchange

namespace loadlight::core {

template <>
struct Vocabulary<exchange::LogEncoding> {
  static constexpr Term<exchange::LogEncoding> kTerms[] = {{exchange::LogEncoding::Utf8, "utf-8"},
                                                           {exchange::LogEncoding::Latin1, "latin-1"}};
};
template <>
struct Vocabulary<exchange::LogSeparator> {
  static constexpr Term<exchange::LogSeparator> kTerms[] = {{exchange::LogSeparator::Comma, "comma"},
                                                            {exchange::LogSeparator::Semicolon, "semicolon"},
                                                            {exchange::LogSeparator::Tab, "tab"},
                                                            {exchange::LogSeparator::Bar, "bar"},
                                                            {exchange::LogSeparator::Space, "space"}};
};
template <>
struct Vocabulary<exchange::LogDecimal> {
  static constexpr Term<exchange::LogDecimal> kTerms[] = {{exchange::LogDecimal::Point, "point"},
                                                          {exchange::LogDecimal::Comma, "comma"}};
};
template <>
struct Vocabulary<exchange::LogHeader> {
  static constexpr Term<exchange::LogHeader> kTerms[] = {{exchange::LogHeader::Yes, "yes"},
                                                         {exchange::LogHeader::No, "no"}};
};
template <>
struct Vocabulary<exchange::LogTimeForm> {
  static constexpr Term<exchange::LogTimeForm> kTerms[] = {
      {exchange::LogTimeForm::Seconds, "seconds"},
      {exchange::LogTimeForm::Minutes, "minutes"},
      {exchange::LogTimeForm::MinutesSeconds, "mm:ss"},
      {exchange::LogTimeForm::HoursMinutesSeconds, "hh:mm:ss"},
      {exchange::LogTimeForm::Clock, "clock"},
      {exchange::LogTimeForm::DateClock, "date-clock"}};
};
template <>
struct Vocabulary<exchange::LogDateOrder> {
  static constexpr Term<exchange::LogDateOrder> kTerms[] = {{exchange::LogDateOrder::YearMonthDay, "ymd"},
                                                            {exchange::LogDateOrder::DayMonthYear, "dmy"},
                                                            {exchange::LogDateOrder::MonthDayYear, "mdy"}};
};
template <>
struct Vocabulary<exchange::LogZone> {
  static constexpr Term<exchange::LogZone> kTerms[] = {{exchange::LogZone::Local, "local"},
                                                       {exchange::LogZone::Utc, "utc"}};
};
template <>
struct Vocabulary<exchange::TemperatureUnit> {
  static constexpr Term<exchange::TemperatureUnit> kTerms[] = {{exchange::TemperatureUnit::Celsius, "C"},
                                                               {exchange::TemperatureUnit::Fahrenheit, "F"}};
};
template <>
struct Vocabulary<exchange::PressureUnit> {
  static constexpr Term<exchange::PressureUnit> kTerms[] = {{exchange::PressureUnit::Kilopascal, "kPa"},
                                                            {exchange::PressureUnit::Bar, "bar"},
                                                            {exchange::PressureUnit::Millibar, "mbar"},
                                                            {exchange::PressureUnit::Psi, "psi"}};
};
template <>
struct Vocabulary<exchange::PressureReference> {
  static constexpr Term<exchange::PressureReference> kTerms[] = {
      {exchange::PressureReference::Absolute, "absolute"}, {exchange::PressureReference::Gauge, "gauge"}};
};

}  // namespace loadlight::core
