#include "web/secrets.h"

#include <sodium.h>

#include <array>
#include <cstdlib>
#include <cstdint>

namespace loadlight::web {
namespace {

constexpr std::string_view kDigits = "0123456789abcdefghjkmnpqrstvwxyz";

// Five bits a character.
std::string spelled(std::string_view bytes, std::size_t length) {
  std::string out;
  unsigned held = 0;
  unsigned bits = 0;
  for (std::size_t i = 0; out.size() < length;) {
    if (bits < 5) {
      held = held << 8 | static_cast<std::uint8_t>(bytes[i++]);
      bits += 8;
    }
    bits -= 5;
    out.push_back(kDigits[held >> bits & 31]);
  }
  return out;
}

}  // namespace

std::string random_name() {
  std::array<char, 17> bytes{};
  if (sodium_init() < 0) std::abort();
  randombytes_buf(bytes.data(), bytes.size());
  return spelled({bytes.data(), bytes.size()}, 26);
}

FormSeal::FormSeal() : key_(crypto_auth_hmacsha256_KEYBYTES, '\0') {
  if (sodium_init() < 0) std::abort();
  randombytes_buf(key_.data(), key_.size());
}

std::string FormSeal::token(std::string_view cookie, std::string_view path) const {
  std::string message{cookie};
  message.push_back('\n');
  message += path;
  std::array<unsigned char, crypto_auth_hmacsha256_BYTES> mac{};
  crypto_auth_hmacsha256(mac.data(), reinterpret_cast<const unsigned char*>(message.data()), message.size(),
                         reinterpret_cast<const unsigned char*>(key_.data()));
  return spelled({reinterpret_cast<const char*>(mac.data()), mac.size()}, 26);
}

bool FormSeal::fits(std::string_view given, std::string_view cookie, std::string_view path) const {
  const std::string right = token(cookie, path);
  return given.size() == right.size() && sodium_memcmp(given.data(), right.data(), right.size()) == 0;
}

}  // namespace loadlight::web
