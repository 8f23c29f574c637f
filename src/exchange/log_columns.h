// Where a log's columns are, and a row's values out of its cells.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "loadlight/exchange/log_mapping.h"
#include "log_errors.h"
#include "log_line.h"

namespace loadlight::exchange {

struct LogRow final {
  double time = 0;  // as written (parse_log_time)
  std::string_view time_cell;
  std::optional<double> celsius;  // none: the cell is empty
  std::optional<double> kpa_abs;
};

class LogColumns final {
 public:
  explicit LogColumns(const LogMapping& mapping) : mapping_(mapping) {}

  // Finds the columns in the header's cells or, without a header, by their numbers in the first row.
  void find(const LogCells& cells, std::size_t line, LogErrors& errors);
  // None, and an error, if a cell is not what it should be.
  std::optional<LogRow> read(const LogCells& cells, std::size_t line, LogErrors& errors) const;

 private:
  std::size_t find(const LogColumn& column, const LogCells& cells, std::size_t line, LogErrors& errors) const;
  // The cell as a number; none if it is none, or what the mapping says does not stand around it.
  std::optional<double> number(std::string_view cell, const LogColumn& column) const;
  bool read_values(const LogCells& cells, LogRow& row, std::size_t line, LogErrors& errors) const;
  bool read_pressure(std::string_view cell, LogRow& row, std::size_t line, LogErrors& errors) const;

  LogMapping mapping_;
  std::size_t count_ = 0;  // of every row
  std::size_t time_ = 0;
  std::size_t date_ = 0;
  std::size_t temperature_ = 0;
  std::size_t pressure_ = 0;
};

}  // namespace loadlight::exchange
