#include "csv_cells.h"

#include <algorithm>

#include "loadlight/exchange/csv.h"

namespace loadlight::exchange {
namespace {

constexpr char kQuote = '"';

}  // namespace

CsvCells CsvReader::next() {
  CsvCells row;
  row.line = line_;
  while (true) {
    const bool is_quoted = !rest_.empty() && rest_.front() == kQuote;
    keep(is_quoted ? quoted(row) : plain(row), row);
    if (rest_.empty() || rest_.front() != separator_) break;
    drop(1);
  }
  drop(rest_.substr(0, 2) == "\r\n" ? 2 : 1);
  return row;
}

void CsvReader::keep(std::string cell, CsvCells& row) {
  if (row.cells.size() > kMostCells) return;
  if (cell.size() > kLongestCell) row.faults.push_back(CsvFault::CellLong);
  row.cells.push_back(std::move(cell));
  if (row.cells.size() > kMostCells) row.faults.push_back(CsvFault::ManyCells);
}

// Up to the next separator or line end.
std::string CsvReader::plain(CsvCells& row) {
  std::string cell;
  while (!at_line_end() && rest_.front() != separator_) {
    cell.push_back(rest_.front());
    drop(1);
  }
  if (cell.find(kQuote) != std::string::npos) row.faults.push_back(CsvFault::QuoteInside);
  return cell;
}

// From an opening quote to past its closing one, and what wrongly follows that.
std::string CsvReader::quoted(CsvCells& row) {
  std::string cell;
  drop(1);
  while (!rest_.empty()) {
    const bool doubled = rest_.substr(0, 2) == "\"\"";
    if (rest_.front() == kQuote && !doubled) break;
    cell.push_back(rest_.front());
    drop(doubled ? 2 : 1);
  }
  if (rest_.empty()) {
    row.faults.push_back(CsvFault::QuoteOpen);
    return cell;
  }
  drop(1);
  if (!at_line_end() && rest_.front() != separator_) {
    row.faults.push_back(CsvFault::AfterQuote);
    while (!at_line_end() && rest_.front() != separator_) drop(1);
  }
  return cell;
}

void CsvReader::drop(std::size_t count) {
  count = std::min(count, rest_.size());
  for (char c : rest_.substr(0, count)) line_ += c == '\n' ? 1 : 0;
  rest_.remove_prefix(count);
}

bool CsvReader::at_line_end() const {
  return rest_.empty() || rest_.front() == '\n' || rest_.substr(0, 2) == "\r\n";
}

char separator_of(std::string_view text) {
  const auto line = text.substr(0, text.find('\n'));
  std::ptrdiff_t lead = 0;  // semicolons ahead of commas
  bool inside = false;
  for (char c : line) {
    if (c == kQuote) inside = !inside;
    if (!inside && c == ';') ++lead;
    if (!inside && c == ',') --lead;
  }
  return lead > 0 ? ';' : ',';
}

}  // namespace loadlight::exchange
