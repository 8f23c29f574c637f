// Keyed authenticators (RFC 2104 with SHA-256, FIPS 180-4), by libsodium.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace loadlight::system {

using Mac = std::array<std::uint8_t, 32>;

// HMAC-SHA-256 of `text`; a key of any length.
Mac hmac_sha256(std::span<const std::uint8_t> key, std::string_view text);

// The 13 characters that a label carries of it.
std::string authenticator(std::span<const std::uint8_t> key, std::string_view signed_part);

// Compares in a time that depends on the lengths alone.
bool same_text(std::string_view a, std::string_view b);

}  // namespace loadlight::system
