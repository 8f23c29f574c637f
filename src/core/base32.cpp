#include "loadlight/core/base32.h"

#include <algorithm>
#include <cassert>

namespace loadlight::core {
namespace {

constexpr std::string_view kAlphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

char upper(char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; }

char unconfused(char c) {
  switch (c) {
    case 'I':
    case 'L':
      return '1';
    case 'O':
      return '0';
    default:
      return c;
  }
}

}  // namespace

std::string base32_of_bits(std::span<const std::uint8_t> bytes, std::size_t characters) {
  assert(bytes.size() * 8 >= characters * 5);
  std::string out;
  unsigned held = 0;
  unsigned bits = 0;
  std::size_t next = 0;
  while (out.size() < characters) {
    if (bits < 5) {
      held = (held << 8 | bytes[next++]) & 0xFFFF;
      bits += 8;
    }
    bits -= 5;
    out.push_back(kAlphabet[held >> bits & 31]);
  }
  return out;
}

std::string base32_of_number(std::uint64_t number) {
  std::string out;
  do {
    out.push_back(kAlphabet[number & 31]);
    number >>= 5;
  } while (number != 0);
  std::reverse(out.begin(), out.end());
  return out;
}

std::optional<std::string> base32_normalized(std::string_view typed) {
  std::string out;
  for (char raw : typed) {
    if (raw == '-' || raw == ' ') continue;
    const char c = unconfused(upper(raw));
    if (kAlphabet.find(c) == std::string_view::npos) return std::nullopt;
    out.push_back(c);
  }
  return out;
}

}  // namespace loadlight::core
