// The format of a mapping file (templates/mappings/NAME.mapping): lines of words, UTF-8.
//
//   file        = "loadlight-mapping" "1" { statement }      "#" starts a comment that ends with its line
//   statement   = word { word / name "=" value }             values with spaces stand in double quotes
//   encoding    = "encoding" ( "utf-8" | "latin-1" )
//   separator   = "separator" ( "comma" | "semicolon" | "tab" | "bar" | "space" )          must be said
//   decimal     = "decimal" ( "point" | "comma" )
//   skip        = "skip" LINES                               before the header or the first row
//   header      = "header" ( "yes" | "no" )
//   ignore      = "ignore" START                             lines that begin so say nothing; repeatable
//   time        = "time" column form=FORM [zone=local|utc] [order=ymd|dmy|mdy]             must be said
//   date        = "date" column order=ymd|dmy|mdy            for form=clock
//   temperature = "temperature" column unit=C|F                                            must be said
//   pressure    = "pressure" column unit=kPa|bar|mbar|psi reference=absolute|gauge [barometric=KPA]
//   interval    = "interval" SECONDS                         between two rows              must be said
//   column      = ( column=NAME | column=NUMBER ) [before=TEXT] [after=TEXT]    numbers from 1; what stands
//                                                            around a value
//   FORM        = seconds | minutes | mm:ss | hh:mm:ss | clock | date-clock
#include "loadlight/exchange/log_mapping.h"

#include <algorithm>

#include "csv_encoding.h"
#include "log_number.h"
#include "mapping_statement.h"

namespace loadlight::exchange {
namespace {

constexpr int kMostSkippedLines = 200;
constexpr int kMostColumns = 64;
constexpr double kLowestBarometricKpa = 50;  // about 5,500 m above the sea
constexpr double kHighestBarometricKpa = 110;
constexpr double kShortestInterval = 0.05;  // seconds
constexpr double kLongestInterval = 60;

LogColumn read_column(MappingStatement& s) {
  LogColumn column;
  column.name = s.text("column");
  if (parse_decimal(column.name, '.')) {
    column.number = s.whole("column", 1, kMostColumns);
    column.name.clear();
  }
  if (s.has("before")) column.before = s.text("before");
  if (s.has("after")) column.after = s.text("after");
  return column;
}

void read_time(MappingStatement& s, LogMapping& m) {
  m.time = read_column(s);
  s.choose("form", m.time_form);
  if (s.has("zone")) s.choose("zone", m.zone);
  if (m.time_form == LogTimeForm::DateClock) s.choose("order", m.date_order);
}

void read_date(MappingStatement& s, LogMapping& m) {
  m.date = read_column(s);
  s.choose("order", m.date_order);
}

void read_temperature(MappingStatement& s, LogMapping& m) {
  m.temperature = read_column(s);
  s.choose("unit", m.temperature_unit);
}

// A gauge reading says nothing without the pressure around it, so that one must then be said.
void read_pressure(MappingStatement& s, LogMapping& m) {
  m.pressure = read_column(s);
  s.choose("unit", m.pressure_unit);
  s.choose("reference", m.pressure_reference);
  if (s.has("barometric") || m.pressure_reference == PressureReference::Gauge) {
    m.barometric_kpa = s.number("barometric", kLowestBarometricKpa, kHighestBarometricKpa);
  }
}

struct StatementRow final {
  std::string_view keyword;
  bool must_be_said;
  void (*read)(MappingStatement&, LogMapping&);
};
constexpr StatementRow kStatements[] = {
    {"encoding", false, [](MappingStatement& s, LogMapping& m) { s.choose("", m.encoding); }},
    {"separator", true, [](MappingStatement& s, LogMapping& m) { s.choose("", m.separator); }},
    {"decimal", false, [](MappingStatement& s, LogMapping& m) { s.choose("", m.decimal); }},
    {"skip", false,
     [](MappingStatement& s, LogMapping& m) { m.skipped_lines = s.whole("", 0, kMostSkippedLines); }},
    {"header", false, [](MappingStatement& s, LogMapping& m) { s.choose("", m.header); }},
    {"ignore", false, [](MappingStatement& s, LogMapping& m) { m.ignored_starts.push_back(s.text("")); }},
    {"time", true, read_time},
    {"date", false, read_date},
    {"temperature", true, read_temperature},
    {"pressure", false, read_pressure},
    {"interval", true,
     [](MappingStatement& s, LogMapping& m) {
       m.nominal_seconds = s.number("", kShortestInterval, kLongestInterval);
     }},
};

constexpr std::string_view kRepeatable = "ignore";

using Problem = std::optional<MappingProblem>;

Problem read_statement(MappingStatement& statement, LogMapping& mapping,
                       std::vector<std::string_view>& said) {
  for (const StatementRow& row : kStatements) {
    if (row.keyword != statement.keyword()) continue;
    const bool repeated = std::find(said.begin(), said.end(), row.keyword) != said.end();
    if (repeated && row.keyword != kRepeatable) {
      return MappingProblem{statement.line(), "statement-repeated", std::string{row.keyword}};
    }
    said.push_back(row.keyword);
    row.read(statement, mapping);
    return statement.finish();
  }
  return MappingProblem{statement.line(), "statement-unknown", statement.keyword()};
}

Problem check_first(std::vector<MappingStatement>& statements) {
  if (statements.empty() || statements.front().keyword() != "loadlight-mapping") {
    return MappingProblem{0, "mapping-header-missing", ""};
  }
  if (statements.front().text("") != "1") return MappingProblem{statements.front().line(), "later-form", ""};
  return statements.front().finish();
}

// What no single line can tell.
Problem check_whole(const LogMapping& m, const std::vector<std::string_view>& said) {
  for (const StatementRow& row : kStatements) {
    const bool was_said = std::find(said.begin(), said.end(), row.keyword) != said.end();
    if (row.must_be_said && !was_said) {
      return MappingProblem{0, "statement-missing", std::string{row.keyword}};
    }
  }
  if (m.date && m.time_form != LogTimeForm::Clock) return MappingProblem{0, "date-without-clock", ""};
  if (m.separator == LogSeparator::Comma && m.decimal == LogDecimal::Comma) {
    return MappingProblem{0, "separator-is-decimal", ""};
  }
  const bool any_name = m.time.number == 0 || m.temperature.number == 0 ||
                        (m.pressure && m.pressure->number == 0) || (m.date && m.date->number == 0);
  if (any_name && m.header == LogHeader::No) return MappingProblem{0, "names-without-header", ""};
  return std::nullopt;
}

Problem read_all(std::vector<MappingStatement>& statements, LogMapping& mapping) {
  if (auto problem = check_first(statements)) return problem;
  std::vector<std::string_view> said;
  for (std::size_t i = 1; i < statements.size(); ++i) {
    if (auto problem = read_statement(statements[i], mapping, said)) return problem;
  }
  return check_whole(mapping, said);
}

core::Failure failure(std::string_view name, const MappingProblem& problem) {
  core::Details details{{"template", std::string{name}}, {"problem", problem.problem}};
  if (problem.line > 0) details.emplace_back("line", std::to_string(problem.line));
  if (!problem.what.empty()) details.emplace_back("what", problem.what);
  return {core::FailureCode::BadTemplate, details, {}};
}

}  // namespace

core::Result<LogMapping> parse_mapping(std::string_view name, std::string_view text) {
  if (text.size() > kLargestMapping) return failure(name, {0, "too-large", ""});
  if (encoding_failure(text)) return failure(name, {0, "not-text", ""});
  std::vector<MappingStatement> statements;
  if (auto problem = cut_mapping(without_mark(text), statements)) return failure(name, *problem);
  LogMapping mapping;
  if (auto problem = read_all(statements, mapping)) return failure(name, *problem);
  return mapping;
}

double to_celsius(double value, TemperatureUnit unit) {
  switch (unit) {
    case TemperatureUnit::Celsius:
      return value;
    case TemperatureUnit::Fahrenheit:
      return (value - 32) / 1.8;
  }
  return value;
}

namespace {

double kpa_per(PressureUnit unit) {
  switch (unit) {
    case PressureUnit::Kilopascal:
      return 1;
    case PressureUnit::Bar:
      return 100;
    case PressureUnit::Millibar:
      return 0.1;
    case PressureUnit::Psi:
      return 6.894757293168361;  // 4.4482216152605 N on 6.4516 square centimetres, exactly
  }
  return 1;
}

}  // namespace

double to_kpa_abs(double value, const LogMapping& mapping) {
  const double kpa = value * kpa_per(mapping.pressure_unit);
  return mapping.pressure_reference == PressureReference::Gauge ? kpa + mapping.barometric_kpa : kpa;
}

}  // namespace loadlight::exchange
