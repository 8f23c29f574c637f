#include "label/text_check.h"

#include <cstdint>

namespace loadlight::label {
namespace {

struct Lead final {
  int continuation_bytes;
  std::uint32_t bits;
  std::uint32_t least;  // below this the form is overlong
};

Lead lead_of(unsigned char byte) {
  if (byte < 0x80) return {0, byte, 0};
  if ((byte & 0xe0) == 0xc0) return {1, byte & 0x1fu, 0x80};
  if ((byte & 0xf0) == 0xe0) return {2, byte & 0x0fu, 0x800};
  if ((byte & 0xf8) == 0xf0) return {3, byte & 0x07u, 0x10000};
  return {-1, 0, 0};
}

bool is_allowed(std::uint32_t c) {
  const bool control = c < 0x20 || (c >= 0x7f && c <= 0x9f) || c == 0x2028 || c == 0x2029;
  const bool turns_direction = (c >= 0x202a && c <= 0x202e) || (c >= 0x2066 && c <= 0x2069);
  const bool surrogate = c >= 0xd800 && c <= 0xdfff;
  return !control && !turns_direction && !surrogate && c <= 0x10ffff;
}

}  // namespace

bool is_label_text(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    Lead lead = lead_of(static_cast<unsigned char>(text[at++]));
    if (lead.continuation_bytes < 0) return false;
    for (int i = 0; i < lead.continuation_bytes; ++i, ++at) {
      if (at >= text.size() || (static_cast<unsigned char>(text[at]) & 0xc0) != 0x80) return false;
      lead.bits = (lead.bits << 6) | (static_cast<unsigned char>(text[at]) & 0x3fu);
    }
    if (lead.bits < lead.least || !is_allowed(lead.bits)) return false;
  }
  return true;
}

}  // namespace loadlight::label
