#include "log_number.h"

#include <cstdint>

namespace loadlight::exchange {
namespace {

// Every whole number of 15 digits and these powers are exact in a double, so their quotient is the nearest.
constexpr int kMostDigits = 15;
constexpr double kPowers[kMostDigits + 1] = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                             1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};

bool is_space(char c) {
  return c == ' ' || c == '\t';
}

}  // namespace

std::string_view without_spaces(std::string_view text) {
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

std::optional<double> parse_decimal(std::string_view text, char point) {
  const bool negative = !text.empty() && text.front() == '-';
  if (negative || (!text.empty() && text.front() == '+')) text.remove_prefix(1);
  std::int64_t digits = 0;
  int count = 0;
  int after_point = -1;  // -1: no point yet
  for (char c : text) {
    if (c == point && after_point < 0 && count > 0) {
      after_point = 0;
      continue;
    }
    if (c < '0' || c > '9' || ++count > kMostDigits) return std::nullopt;
    digits = digits * 10 + (c - '0');
    if (after_point >= 0) ++after_point;
  }
  if (count == 0 || after_point == 0) return std::nullopt;
  const double value = static_cast<double>(digits) / kPowers[after_point < 0 ? 0 : after_point];
  return negative ? -value : value;
}

}  // namespace loadlight::exchange
