// The lines of a log out of chunks of bytes, and the cells of a line. Memory is bounded whatever comes.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <string>
#include <string_view>

#include "loadlight/exchange/log_mapping.h"

namespace loadlight::exchange {

inline constexpr std::size_t kLongestLine = 4096;  // bytes, without its end
inline constexpr std::size_t kMostLogCells = 64;   // of one line

// Gives each line, without its LF or CRLF, to `line`; of one that is too long the first kLongestLine + 1
// bytes.
class LineCutter final {
 public:
  template <class Line>
  void feed(std::string_view bytes, Line line) {
    while (!bytes.empty()) {
      const std::size_t end = bytes.find('\n');
      if (end == std::string_view::npos) return keep(bytes);
      if (begun_.empty()) {
        line(without_return(bytes.substr(0, end)));
      } else {
        keep(bytes.substr(0, end));
        line(without_return(begun_));
        begun_.clear();
      }
      bytes.remove_prefix(end + 1);
    }
  }
  std::string_view unended() const { return begun_; }  // what follows the last line end

 private:
  static std::string_view without_return(std::string_view line) {
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    return line;
  }
  void keep(std::string_view part) {
    begun_ += part.substr(0, kLongestLine + 1 - std::min(begun_.size(), kLongestLine + 1));
  }
  std::string begun_;
};

// Cells of a line, trimmed; views into it. In double quotes a separator is a character like any other.
struct LogCells final {
  std::array<std::string_view, kMostLogCells> cells;
  std::size_t count = 0;
  std::string_view problem;  // "csv.…" or empty

  std::string_view operator[](std::size_t i) const { return cells[i]; }
};
LogCells cut_cells(std::string_view line, LogSeparator separator);

// True iff every byte is 0x01 to 0x7F.
bool is_plain_ascii(std::string_view text);

// Of a cell, for a message: 40 bytes at most, whatever is not plain printable ASCII as "?".
std::string shown(std::string_view cell);

std::string utf8_of_latin1(std::string_view text);

}  // namespace loadlight::exchange
