// The text in a symbol's data codewords.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>

namespace loadlight::vision {

// UTF-8. Reads numeric, alphanumeric and byte segments (UTF-8 if all bytes are well-formed, else ISO 8859-1)
// and the ECI assignments 3 (ISO 8859-1) and 26 (UTF-8). Nothing for other segments (kanji, FNC1, structured
// append) and assignments, for values that no segment can hold, for an empty text, and unless the codewords
// end exactly as the standard has them end: terminator, zero bits, pad codewords in turn.
std::optional<std::string> text_of(std::span<const std::uint8_t> data, int version);

}  // namespace loadlight::vision
