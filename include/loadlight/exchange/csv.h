// CSV as spreadsheets write and read it (RFC 4180): cells in double quotes may hold separators, line
// breaks and doubled quotes.
//
// Read: comma or semicolon, told by the header line; UTF-8 with or without its byte order mark; LF or CRLF.
// Written: comma, CRLF, UTF-8 without a mark, a header line first.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/result.h"

namespace loadlight::exchange {

inline constexpr std::size_t kLargestTable = 16u << 20;  // bytes of a whole office table
inline constexpr std::size_t kLongestCell = 64u << 10;   // bytes of one cell
inline constexpr std::size_t kMostCells = 256;           // of one line
inline constexpr std::size_t kMostRows = 200'000;        // of a table

struct CsvLine final {
  std::size_t line = 0;            // where the row begins, 1 being the header's line
  std::vector<std::string> cells;  // as many as the header has
};

struct CsvTable final {
  std::vector<std::string> header;
  std::vector<CsvLine> rows;  // lines without anything in their cells are left out

  std::optional<std::size_t> column(std::string_view name) const;
  // The cell of a row under a column's name; empty when the table has no such column.
  std::string_view cell(const CsvLine& row, std::string_view name) const;
};

// Which columns a table has. Their order is free; names are compared exactly.
struct CsvColumns final {
  std::span<const std::string_view> required;
  std::span<const std::string_view> optional = {};
};

// Reads a whole table or nothing. BadEncoding (details: line, why) for bytes that are not UTF-8, NUL, or
// UTF-16; BadCsv (detail: count; items: "csv.…" with their line, in order, at most kMostErrors) for
// the rest.
inline constexpr std::size_t kMostErrors = 100;
core::Result<CsvTable> parse_csv(std::string_view text, const CsvColumns& columns);

// One row, escaped here and nowhere else. A cell that a spreadsheet would run as a formula, because it
// begins with = + - @, a tab or a return and is not a plain number, gets an apostrophe before it.
class CsvRow final {
 public:
  CsvRow& add(std::string_view cell);
  CsvRow& add(long long number);
  const std::string& text() const { return text_; }  // without its line ending
  std::string line() const { return text_ + "\r\n"; }

 private:
  std::string text_;
  bool started_ = false;
};

}  // namespace loadlight::exchange
