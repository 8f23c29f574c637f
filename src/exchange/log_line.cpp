#include "log_line.h"

#include <algorithm>
#include <cstdint>
#include <cstring>

#include "log_number.h"

namespace loadlight::exchange {
namespace {

char character_of(LogSeparator separator) {
  switch (separator) {
    case LogSeparator::Comma:
      return ',';
    case LogSeparator::Semicolon:
      return ';';
    case LogSeparator::Tab:
      return '\t';
    case LogSeparator::Bar:
      return '|';
    case LogSeparator::Space:
      return ' ';
  }
  return ',';
}

std::string_view trimmed(std::string_view cell, char separator) {
  if (separator != '\t') return without_spaces(cell);
  while (!cell.empty() && cell.front() == ' ') cell.remove_prefix(1);
  while (!cell.empty() && cell.back() == ' ') cell.remove_suffix(1);
  return cell;
}

// The cell in quotes at the front of `rest`, which is left behind its closing quote.
std::string_view take_quoted(std::string_view& rest, LogCells& cells) {
  const std::size_t end = rest.find('"', 1);
  if (end == std::string_view::npos) {
    cells.problem = "csv.quote-open";
    return std::exchange(rest, {});
  }
  const auto cell = rest.substr(1, end - 1);
  rest.remove_prefix(end + 1);
  return cell;
}

std::string_view take_plain(std::string_view& rest, char separator) {
  const std::size_t end = std::min(rest.find(separator), rest.size());
  const auto cell = rest.substr(0, end);
  rest.remove_prefix(end);
  return trimmed(cell, separator);
}

void skip_spaces(std::string_view& rest) {
  while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
}

}  // namespace

LogCells cut_cells(std::string_view line, LogSeparator separator) {
  LogCells cells;
  const char between = character_of(separator);
  const bool runs = separator == LogSeparator::Space;
  if (runs) line = without_spaces(line);
  while (cells.problem.empty()) {
    skip_spaces(line);
    const bool quoted = !line.empty() && line.front() == '"';
    const auto cell = quoted ? take_quoted(line, cells) : take_plain(line, between);
    if (quoted && !runs) skip_spaces(line);
    if (cells.count == kMostLogCells) {
      cells.problem = "csv.many-cells";
      break;
    }
    cells.cells[cells.count++] = cell;
    if (line.empty()) break;
    if (line.front() != between) cells.problem = "csv.after-quote";
    line.remove_prefix(1);
  }
  return cells;
}

bool is_plain_ascii(std::string_view text) {
  std::uint64_t high = 0;
  bool nul = false;
  for (char c : text) {
    high |= static_cast<unsigned char>(c);
    nul |= c == '\0';
  }
  return high < 0x80 && !nul;
}

std::string shown(std::string_view cell) {
  std::string text{cell.substr(0, 40)};
  std::replace_if(
      text.begin(), text.end(), [](char c) { return c < ' ' || c > '~'; }, '?');
  return text;
}

std::string utf8_of_latin1(std::string_view text) {
  std::string out;
  for (char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x80) {
      out.push_back(c);
    } else {
      out.push_back(static_cast<char>(0xC0 | byte >> 6));
      out.push_back(static_cast<char>(0x80 | (byte & 0x3F)));
    }
  }
  return out;
}

}  // namespace loadlight::exchange
