#include <algorithm>

#include "csv_cells.h"
#include "csv_encoding.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::exchange {
namespace {

using core::Detail;
using core::Details;
using core::Failure;
using core::FailureCode;

std::string_view sentence_of(CsvFault fault) {
  switch (fault) {
    case CsvFault::QuoteInside:
      return "csv.quote-inside";
    case CsvFault::QuoteOpen:
      return "csv.quote-open";
    case CsvFault::AfterQuote:
      return "csv.after-quote";
    case CsvFault::CellLong:
      return "csv.cell-long";
    case CsvFault::ManyCells:
      return "csv.many-cells";
  }
  return "csv.quote-open";
}

// Every error of a table, each with its line; beyond kMostErrors they are only counted.
class Errors final {
 public:
  void add(std::string_view key, std::size_t line, const Details& more = {}) {
    Details details{{"line", std::to_string(line)}};
    details.insert(details.end(), more.begin(), more.end());
    if (++count_ <= kMostErrors) items_.push_back({std::string{key}, details});
  }
  void add(const CsvCells& row) {
    for (CsvFault fault : row.faults) add(sentence_of(fault), row.line);
  }

  bool any() const { return count_ != 0; }
  Failure failure() const { return {FailureCode::BadCsv, {{"count", std::to_string(count_)}}, items_}; }

 private:
  std::size_t count_ = 0;
  std::vector<core::Sentence> items_;
};

template <class Names>
bool holds(const Names& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

void check_header(const CsvCells& header, const CsvColumns& columns, Errors& errors) {
  for (std::string_view name : columns.required) {
    if (!holds(header.cells, name)) {
      errors.add("csv.column-missing", header.line, {{"column", std::string{name}}});
    }
  }
  for (auto cell = header.cells.begin(); cell != header.cells.end(); ++cell) {
    if (!holds(columns.required, *cell) && !holds(columns.optional, *cell)) {
      errors.add("csv.column-unknown", header.line, {{"column", *cell}});
    } else if (std::find(header.cells.begin(), cell, *cell) != cell) {
      errors.add("csv.column-twice", header.line, {{"column", *cell}});
    }
  }
}

bool is_blank(const CsvCells& row) {
  return std::all_of(row.cells.begin(), row.cells.end(), [](const auto& cell) { return cell.empty(); });
}

void add_row(CsvCells row, CsvTable& table, Errors& errors) {
  errors.add(row);
  if (is_blank(row)) return;
  if (row.cells.size() != table.header.size()) {
    errors.add(
        "csv.row-cells", row.line,
        {{"found", std::to_string(row.cells.size())}, {"wanted", std::to_string(table.header.size())}});
  }
  table.rows.push_back({row.line, std::move(row.cells)});
}

}  // namespace

std::optional<std::size_t> CsvTable::column(std::string_view name) const {
  const auto found = std::find(header.begin(), header.end(), name);
  if (found == header.end()) return std::nullopt;
  return static_cast<std::size_t>(found - header.begin());
}

std::string_view CsvTable::cell(const CsvLine& row, std::string_view name) const {
  const auto at = column(name);
  return at ? std::string_view{row.cells.at(*at)} : std::string_view{};
}

core::Result<CsvTable> parse_csv(std::string_view text, const CsvColumns& columns) {
  Errors errors;
  if (text.size() > kLargestTable) {
    errors.add("csv.too-large", 1, {{"limit", std::to_string(kLargestTable)}});
    return errors.failure();
  }
  if (auto failure = encoding_failure(text)) return *failure;
  text = without_mark(text);
  CsvReader reader{text, separator_of(text)};
  CsvCells header = reader.next();
  errors.add(header);
  check_header(header, columns, errors);
  if (errors.any()) return errors.failure();  // its rows could not be told right from wrong
  CsvTable table{std::move(header.cells), {}};
  while (!reader.at_end() && table.rows.size() <= kMostRows) add_row(reader.next(), table, errors);
  if (table.rows.size() > kMostRows) {
    errors.add("csv.many-rows", table.rows.back().line, {{"limit", std::to_string(kMostRows)}});
  }
  if (errors.any()) return errors.failure();
  return table;
}

}  // namespace loadlight::exchange
