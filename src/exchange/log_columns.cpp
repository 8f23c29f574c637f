#include "log_columns.h"

#include "log_clock.h"
#include "log_number.h"

namespace loadlight::exchange {
namespace {

// What a sensor in a sterilizer can have measured, whatever the unit was; more is no reading.
constexpr double kLeastCelsius = -90;
constexpr double kMostCelsius = 400;
constexpr double kMostKpa = 100'000;

// What stands between the texts before and after it; none if they do not.
std::optional<std::string_view> bare(std::string_view cell, const LogColumn& column) {
  if (column.before.empty() && column.after.empty()) return cell;
  if (!cell.starts_with(column.before) || !cell.ends_with(column.after)) return std::nullopt;
  if (cell.size() < column.before.size() + column.after.size()) return std::nullopt;
  cell.remove_prefix(column.before.size());
  cell.remove_suffix(column.after.size());
  return without_spaces(cell);
}

}  // namespace

void LogColumns::find(const LogCells& cells, std::size_t line, LogErrors& errors) {
  count_ = cells.count;
  time_ = find(mapping_.time, cells, line, errors);
  temperature_ = find(mapping_.temperature, cells, line, errors);
  if (mapping_.date) date_ = find(*mapping_.date, cells, line, errors);
  if (mapping_.pressure) pressure_ = find(*mapping_.pressure, cells, line, errors);
}

std::size_t LogColumns::find(const LogColumn& column, const LogCells& cells, std::size_t line,
                             LogErrors& errors) const {
  const auto number = static_cast<std::size_t>(column.number);
  if (number > cells.count) {
    errors.add("cycle-log.column-beyond", line,
               {{"column", std::to_string(number)}, {"found", std::to_string(cells.count)}});
  }
  if (number > 0) return number - 1;
  std::size_t found = cells.count;
  for (std::size_t i = 0; i < cells.count; ++i) {
    const bool latin = mapping_.encoding == LogEncoding::Latin1;
    if ((latin ? utf8_of_latin1(cells[i]) : std::string{cells[i]}) != column.name) continue;
    if (found != cells.count) errors.add("csv.column-twice", line, {{"column", column.name}});
    found = i;
  }
  if (found == cells.count) errors.add("csv.column-missing", line, {{"column", column.name}});
  return found;
}

std::optional<LogRow> LogColumns::read(const LogCells& cells, std::size_t line, LogErrors& errors) const {
  if (cells.count != count_) {
    errors.add("csv.row-cells", line,
               {{"found", std::to_string(cells.count)}, {"wanted", std::to_string(count_)}});
    return std::nullopt;
  }
  LogRow row;
  row.time_cell = cells[time_];
  const auto clock = bare(row.time_cell, mapping_.time);
  const auto date = mapping_.date ? bare(cells[date_], *mapping_.date) : std::string_view{};
  const auto time = clock && date ? parse_log_time(*clock, *date, mapping_) : std::nullopt;
  if (!time) errors.add("cycle-log.time", line, {{"given", shown(row.time_cell)}});
  if (!read_values(cells, row, line, errors) || !time) return std::nullopt;
  row.time = *time;
  return row;
}

std::optional<double> LogColumns::number(std::string_view cell, const LogColumn& column) const {
  const auto value = bare(cell, column);
  return value ? parse_decimal(*value, mapping_.decimal == LogDecimal::Comma ? ',' : '.') : std::nullopt;
}

bool LogColumns::read_values(const LogCells& cells, LogRow& row, std::size_t line, LogErrors& errors) const {
  const std::string_view cell = cells[temperature_];
  if (!cell.empty()) {
    if (const auto value = number(cell, mapping_.temperature))
      row.celsius = to_celsius(*value, mapping_.temperature_unit);
    if (!row.celsius || *row.celsius < kLeastCelsius || *row.celsius > kMostCelsius) {
      errors.add("cycle-log.temperature", line, {{"given", shown(cell)}});
      return false;
    }
  }
  return !mapping_.pressure || cells[pressure_].empty() || read_pressure(cells[pressure_], row, line, errors);
}

bool LogColumns::read_pressure(std::string_view cell, LogRow& row, std::size_t line,
                               LogErrors& errors) const {
  const auto value = number(cell, *mapping_.pressure);
  if (value) row.kpa_abs = to_kpa_abs(*value, mapping_);
  if (value && *row.kpa_abs > 0 && *row.kpa_abs <= kMostKpa) return true;
  const auto key = value && *row.kpa_abs <= 0 ? "cycle-log.pressure-not-absolute" : "cycle-log.pressure";
  errors.add(
      key, line,
      {{"given", shown(cell)}, {"reference", std::string{core::to_text(mapping_.pressure_reference)}}});
  return false;
}

}  // namespace loadlight::exchange
