// How the stations of an office in a group's database hand each other its keys: the database holds them under a key
// of its own (XChaCha20-Poly1305), which only the stations have, in station.json (0600):
//
//   {"station": "WEST", "hand_over": "<64 hex digits>"}
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "loadlight/core/result.h"

namespace loadlight::system {

inline constexpr std::size_t kHandOverBytes = 32;

// Wiped when it goes.
struct HandOver final {
  HandOver() = default;
  ~HandOver();
  HandOver(const HandOver& other) = default;
  HandOver& operator=(const HandOver& other) = default;

  std::string station;  // its name
  std::array<std::uint8_t, kHandOverBytes> key{};
};

std::string print_hand_over(const HandOver& hand_over);
// Nothing unless `text` is exactly such an object, with a station's name of 1 to 16 of 0-9 and A-Z.
std::optional<HandOver> parse_hand_over(std::string_view text);

// The key in Crockford's base32 with a check character, in groups of six with a hyphen between: what a person carries
// to another station.
std::string code_of(const HandOver& hand_over);
// False, and `hand_over` as it was, when it is no such code.
bool take_code(std::string_view code, HandOver& hand_over);

// Under a fresh nonce, in hex digits.
std::string wrapped_text(const HandOver& hand_over, std::string_view text);
// Nothing when it was wrapped under another key, or altered.
std::optional<std::string> unwrapped_text(const HandOver& hand_over, std::string_view wrapped);

}  // namespace loadlight::system
