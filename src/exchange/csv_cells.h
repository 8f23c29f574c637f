// Cells out of CSV text (RFC 4180): the grammar alone, no columns.
//
//   line = cell *( separator cell ) ( LF / CRLF / end )     cell = *plain / quoted
//   quoted = DQUOTE *( any but DQUOTE / 2DQUOTE ) DQUOTE    plain = any but separator, DQUOTE, CR, LF
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace loadlight::exchange {

enum class CsvFault { QuoteInside, QuoteOpen, AfterQuote, CellLong, ManyCells };

struct CsvCells final {
  std::size_t line = 0;  // where it begins, from 1
  std::vector<std::string> cells;
  std::vector<CsvFault> faults;  // in order; cells around a fault are read as well as they can be
};

// Reads line after line of a text that outlives it.
class CsvReader final {
 public:
  CsvReader(std::string_view text, char separator) : rest_(text), separator_(separator) {}

  bool at_end() const { return rest_.empty(); }
  CsvCells next();

 private:
  static void keep(std::string cell, CsvCells& row);
  std::string plain(CsvCells& row);
  std::string quoted(CsvCells& row);
  void drop(std::size_t count);
  bool at_line_end() const;

  std::string_view rest_;
  char separator_;
  std::size_t line_ = 1;
};

// Semicolon iff the first line holds more of them than commas, outside quotes.
char separator_of(std::string_view text);

}  // namespace loadlight::exchange
