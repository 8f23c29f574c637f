#include "vision/valid_utf8.h"

#include <array>
#include <cstdint>

namespace loadlight::vision {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";  // U+FFFD

// Which lead bytes open a sequence of how many bytes, and the range its second byte must lie in, both
// ends included (RFC 3629, section 4).
struct Sequence final {
  std::uint8_t first_lead;
  std::uint8_t last_lead;
  std::size_t length;
  std::uint8_t least_second;
  std::uint8_t most_second;
};
constexpr std::array<Sequence, 9> kSequences{{
    {0x00, 0x7F, 1, 0x00, 0xFF},
    {0xC2, 0xDF, 2, 0x80, 0xBF},
    {0xE0, 0xE0, 3, 0xA0, 0xBF},
    {0xE1, 0xEC, 3, 0x80, 0xBF},
    {0xED, 0xED, 3, 0x80, 0x9F},
    {0xEE, 0xEF, 3, 0x80, 0xBF},
    {0xF0, 0xF0, 4, 0x90, 0xBF},
    {0xF1, 0xF3, 4, 0x80, 0xBF},
    {0xF4, 0xF4, 4, 0x80, 0x8F},
}};

std::uint8_t byte_at(std::string_view text, std::size_t at) {
  return static_cast<std::uint8_t>(text[at]);
}

bool fits(std::string_view text, std::size_t at, const Sequence& sequence) {
  const auto lead = byte_at(text, at);
  if (lead < sequence.first_lead || lead > sequence.last_lead) return false;
  if (at + sequence.length > text.size()) return false;
  for (std::size_t i = 1; i < sequence.length; ++i) {
    const auto byte = byte_at(text, at + i);
    const auto least = i == 1 ? sequence.least_second : std::uint8_t{0x80};
    const auto most = i == 1 ? sequence.most_second : std::uint8_t{0xBF};
    if (byte < least || byte > most) return false;
  }
  return true;
}

// Bytes of the well-formed sequence at `at`; 0 if there is none.
std::size_t sequence_length(std::string_view text, std::size_t at) {
  for (const auto& sequence : kSequences) {
    if (fits(text, at, sequence)) return sequence.length;
  }
  return 0;
}

}  // namespace

std::string valid_utf8(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const auto length = sequence_length(text, at);
    result += length > 0 ? text.substr(at, length) : kReplacement;
    at += length > 0 ? length : 1;
  }
  return result;
}

}  // namespace loadlight::vision
