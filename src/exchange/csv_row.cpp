#include <algorithm>

#include "loadlight/exchange/csv.h"

namespace loadlight::exchange {
namespace {

// "-12.5", "+3": digits with at most one leading sign and one point. A spreadsheet runs nothing in it.
bool is_plain_number(std::string_view cell) {
  if (!cell.empty() && (cell.front() == '-' || cell.front() == '+')) cell.remove_prefix(1);
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  const auto rest = std::find_if_not(cell.begin(), cell.end(), digit);
  if (rest == cell.begin()) return false;
  if (rest == cell.end()) return true;
  return *rest == '.' && rest + 1 != cell.end() && std::all_of(rest + 1, cell.end(), digit);
}

bool would_run(std::string_view cell) {
  constexpr std::string_view kStarts = "=+-@\t\r";
  return !cell.empty() && kStarts.find(cell.front()) != std::string_view::npos && !is_plain_number(cell);
}

std::string quoted(std::string_view cell) {
  std::string out = "\"";
  for (char c : cell) out.append(c == '"' ? 2 : 1, c);
  return out + "\"";
}

}  // namespace

CsvRow& CsvRow::add(std::string_view cell) {
  if (started_) text_ += ',';
  started_ = true;
  const std::string safe = (would_run(cell) ? "'" : "") + std::string{cell};
  text_ += safe.find_first_of(",;\"\r\n\t") == std::string::npos ? safe : quoted(safe);
  return *this;
}

CsvRow& CsvRow::add(long long number) {
  return add(std::to_string(number));
}

}  // namespace loadlight::exchange
