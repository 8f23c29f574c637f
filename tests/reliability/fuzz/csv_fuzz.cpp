// A table that an office brings: CSV of a spreadsheet.
//
// Promises: every row has as many cells as the header; all columns are known and those that must be are there;
// bounds hold; the same table written by our writer reads as the same cells, but for those that a spreadsheet would
// run, which get their apostrophe; a refusal names a line and a sentence.
#include <algorithm>

#include "fuzz_input.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::fuzz {
namespace {

using namespace exchange;

constexpr std::string_view kRequired[] = {"code", "name"};
constexpr std::string_view kOptional[] = {"note", "lead", "items"};
constexpr CsvColumns kColumns{kRequired, kOptional};

void must_hold(const core::Failure& failure) {
  if (failure.code == core::FailureCode::BadEncoding) {
    promise(failure.details.size() == 2 && failure.details[0].first == "line", "a wrong byte's line is told");
    return;
  }
  promise(failure.code == core::FailureCode::BadCsv && !failure.items.empty(), "what is wrong is told");
  promise(failure.items.size() <= kMostErrors, "errors are not without end");
  for (const core::Sentence& item : failure.items) {
    promise(item.key.starts_with("csv.") && item.details.at(0).first == "line", "an error has its line");
  }
}

std::string written(const CsvTable& table) {
  CsvRow header;
  for (const std::string& name : table.header) header.add(name);
  std::string text = header.line();
  for (const CsvLine& row : table.rows) {
    CsvRow cells;
    for (const std::string& cell : row.cells) cells.add(cell);
    text += cells.line();
  }
  return text;
}

bool is_same(std::string_view before, std::string_view after) {
  return after == before || (after == "'" + std::string{before} && before.find_first_of("=+-@\t\r") == 0);
}

void must_read_as(const CsvTable& table, std::string_view text) {
  const auto again = parse_csv(text, kColumns);
  promise(again.ok() && again->header == table.header, "what we wrote is read");
  promise(again->rows.size() == table.rows.size(), "no row is lost or won");
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    promise(std::equal(table.rows[i].cells.begin(), table.rows[i].cells.end(), again->rows[i].cells.begin(),
                       again->rows[i].cells.end(), is_same),
            "cells are what they were");
  }
}

void must_hold(const CsvTable& table) {
  for (const std::string_view name : kRequired) promise(table.column(name).has_value(), "a column that must be there is");
  promise(table.rows.size() <= kMostRows && table.header.size() <= kMostCells, "bounds of a table hold");
  std::size_t line = 1;
  for (const CsvLine& row : table.rows) {
    promise(row.cells.size() == table.header.size(), "rows are as long as the header");
    promise(row.line > line, "lines rise");
    line = row.line;
    promise(table.cell(row, "name") == row.cells.at(*table.column("name")), "a cell is found under its name");
    for (const std::string& cell : row.cells) promise(cell.size() <= kLongestCell, "a cell's bound holds");
  }
  must_read_as(table, written(table));
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  const auto table = exchange::parse_csv(fuzz::Input{data, size}.rest(), fuzz::kColumns);
  if (table) {
    fuzz::must_hold(*table);
  } else {
    fuzz::must_hold(table.failure());
  }
  return 0;
}
