#include "csv_encoding.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <string>

namespace loadlight::exchange {
namespace {

// A row of the well-formed byte sequences (The Unicode Standard, table 3-7): the range of the first byte,
// the range of the second, and how many bytes there are; any further byte is 80..BF.
struct Sequence final {
  std::uint8_t first_low, first_high, second_low, second_high;
  std::size_t length;
};
constexpr std::array<Sequence, 9> kSequences{{
    {0x01, 0x7F, 0x80, 0xBF, 1},
    {0xC2, 0xDF, 0x80, 0xBF, 2},
    {0xE0, 0xE0, 0xA0, 0xBF, 3},
    {0xE1, 0xEC, 0x80, 0xBF, 3},
    {0xED, 0xED, 0x80, 0x9F, 3},
    {0xEE, 0xEF, 0x80, 0xBF, 3},
    {0xF0, 0xF0, 0x90, 0xBF, 4},
    {0xF1, 0xF3, 0x80, 0xBF, 4},
    {0xF4, 0xF4, 0x80, 0x8F, 4},
}};

bool within(char c, std::uint8_t low, std::uint8_t high) {
  const auto byte = static_cast<std::uint8_t>(c);
  return byte >= low && byte <= high;
}

// How many bytes the well-formed character at the front of `text` has; 0 if there is none.
std::size_t character_length(std::string_view text) {
  for (const Sequence& row : kSequences) {
    if (!within(text[0], row.first_low, row.first_high)) continue;
    if (text.size() < row.length) return 0;
    for (std::size_t i = 1; i < row.length; ++i) {
      if (!within(text[i], i == 1 ? row.second_low : 0x80, i == 1 ? row.second_high : 0xBF)) return 0;
    }
    return row.length;
  }
  return 0;
}

core::Failure bad_encoding(std::string_view before, const char* why) {
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  return {core::FailureCode::BadEncoding, {{"line", std::to_string(line)}, {"why", why}}, {}};
}

bool begins_as_utf16(std::string_view text) {
  return text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF";
}

}  // namespace

std::string_view without_mark(std::string_view text) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";
  if (text.substr(0, kMark.size()) == kMark) text.remove_prefix(kMark.size());
  return text;
}

std::optional<core::Failure> encoding_failure(std::string_view text) {
  if (begins_as_utf16(text)) return bad_encoding({}, "utf-16");
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = character_length(text.substr(at));
    if (length == 0) return bad_encoding(text.substr(0, at), text[at] == '\0' ? "nul" : "not-utf-8");
    at += length;
  }
  return std::nullopt;
}

}  // namespace loadlight::exchange
