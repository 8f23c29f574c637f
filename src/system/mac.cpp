#include "mac.h"

#include <sodium.h>

#include "loadlight/core/base32.h"
#include "loadlight/core/payload.h"

namespace loadlight::system {

Mac hmac_sha256(std::span<const std::uint8_t> key, std::string_view text) {
  Mac mac{};
  crypto_auth_hmacsha256_state state;
  crypto_auth_hmacsha256_init(&state, key.data(), key.size());
  crypto_auth_hmacsha256_update(&state, reinterpret_cast<const unsigned char*>(text.data()), text.size());
  crypto_auth_hmacsha256_final(&state, mac.data());
  sodium_memzero(&state, sizeof state);
  return mac;
}

std::string authenticator(std::span<const std::uint8_t> key, std::string_view signed_part) {
  return core::base32_of_bits(hmac_sha256(key, signed_part), core::kAuthenticatorLength);
}

bool same_text(std::string_view a, std::string_view b) {
  return a.size() == b.size() && sodium_memcmp(a.data(), b.data(), a.size()) == 0;
}

}  // namespace loadlight::system
