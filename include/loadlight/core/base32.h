// Crockford's base32: 0123456789ABCDEFGHJKMNPQRSTVWXYZ (no I, L, O, U).
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace loadlight::core {

// The first `characters` * 5 bits of `bytes`, most significant first. `bytes` must hold that many bits.
std::string base32_of_bits(std::span<const std::uint8_t> bytes, std::size_t characters);

// A number in the fewest digits ("0" for 0).
std::string base32_of_number(std::uint64_t number);

// What a person typed, in the alphabet: upper case, hyphens and spaces dropped, I and L read as 1, O as
// 0. Nothing if another character remains (U is never data).
std::optional<std::string> base32_normalized(std::string_view typed);

}  // namespace loadlight::core
