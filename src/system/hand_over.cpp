#include "hand_over.h"

#include <sodium.h>

#include <exception>
#include <nlohmann/json.hpp>

#include "loadlight/core/base32.h"
#include "loadlight/core/check_character.h"
#include "loadlight/core/names.h"

namespace loadlight::system {
namespace {

using nlohmann::json;

constexpr std::size_t kNonceBytes = crypto_aead_xchacha20poly1305_ietf_NPUBBYTES;
constexpr std::size_t kTagBytes = crypto_aead_xchacha20poly1305_ietf_ABYTES;
constexpr std::size_t kStationLength = 16;
constexpr std::size_t kCodeDigits = 52;  // of 5 bits each: the key and four bits of nothing
constexpr std::size_t kGroup = 6;
constexpr std::string_view kDigits = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

static_assert(kHandOverBytes == crypto_aead_xchacha20poly1305_ietf_KEYBYTES);

std::string hex(std::string_view bytes) {
  std::string digits(2 * bytes.size() + 1, '\0');
  sodium_bin2hex(digits.data(), digits.size(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  digits.pop_back();
  return digits;
}

std::optional<std::string> from_hex(std::string_view digits) {
  std::string bytes(digits.size() / 2, '\0');
  std::size_t got = 0;
  const char* end = nullptr;
  const int status = sodium_hex2bin(reinterpret_cast<unsigned char*>(bytes.data()), bytes.size(), digits.data(),
                                    digits.size(), nullptr, &got, &end);
  if (status != 0 || got != bytes.size() || end != digits.data() + digits.size()) return std::nullopt;
  return bytes;
}

std::string_view as_text(const HandOver& hand_over) {
  return {reinterpret_cast<const char*>(hand_over.key.data()), hand_over.key.size()};
}

const unsigned char* as_bytes(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

// Of more than 5 bits a digit; the bits behind the key are zero.
std::optional<std::array<std::uint8_t, kHandOverBytes>> bytes_of_digits(std::string_view digits) {
  std::array<std::uint8_t, kHandOverBytes> key{};
  for (std::size_t i = 0; i < digits.size(); ++i) {
    const std::size_t value = kDigits.find(digits[i]);
    if (value == std::string_view::npos) return std::nullopt;
    for (std::size_t bit = 0; bit < 5; ++bit) {
      if (((value >> (4 - bit)) & 1) == 0) continue;
      const std::size_t at = 5 * i + bit;
      if (at >= 8 * key.size()) return std::nullopt;
      key[at / 8] = static_cast<std::uint8_t>(key[at / 8] | (0x80u >> (at % 8)));
    }
  }
  return key;
}

}  // namespace

HandOver::~HandOver() {
  sodium_memzero(key.data(), key.size());
}

std::string print_hand_over(const HandOver& hand_over) {
  return json{{"station", hand_over.station}, {"hand_over", hex(as_text(hand_over))}}.dump() + "\n";
}

std::optional<HandOver> parse_hand_over(std::string_view text) {
  try {
    const json file = json::parse(text);
    HandOver hand_over;
    hand_over.station = file.at("station").get<std::string>();
    const auto key = from_hex(file.at("hand_over").get<std::string>());
    if (file.size() != 2 || !key || key->size() != kHandOverBytes) return std::nullopt;
    if (!core::is_code(hand_over.station, kStationLength)) return std::nullopt;
    std::copy(key->begin(), key->end(), hand_over.key.begin());
    return hand_over;
  } catch (const std::exception&) {
    return std::nullopt;
  }
}

std::string code_of(const HandOver& hand_over) {
  std::array<std::uint8_t, kHandOverBytes + 1> padded{};
  std::copy(hand_over.key.begin(), hand_over.key.end(), padded.begin());
  std::string digits = core::base32_of_bits(padded, kCodeDigits);
  digits += core::check_character(digits).value_or('0');
  std::string code;
  for (std::size_t i = 0; i < digits.size(); ++i) {
    if (i > 0 && i % kGroup == 0) code += '-';
    code += digits[i];
  }
  sodium_memzero(padded.data(), padded.size());
  return code;
}

// The check character may be one that no digit is: read as typed, but for spaces, hyphens and case.
bool take_code(std::string_view code, HandOver& hand_over) {
  std::string plain;
  for (const char c : code) {
    if (c == '-' || c == ' ') continue;
    plain += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  }
  if (plain.size() != kCodeDigits + 1) return false;
  const auto digits = core::base32_normalized(std::string_view{plain}.substr(0, kCodeDigits));
  if (!digits || !core::check_character_fits(*digits + plain.back())) return false;
  const auto key = bytes_of_digits(*digits);
  if (!key) return false;
  hand_over.key = *key;
  return true;
}

std::string wrapped_text(const HandOver& hand_over, std::string_view text) {
  std::string nonce(kNonceBytes, '\0');
  randombytes_buf(nonce.data(), nonce.size());
  std::string sealed(text.size() + kTagBytes, '\0');
  unsigned long long length = 0;
  crypto_aead_xchacha20poly1305_ietf_encrypt(reinterpret_cast<unsigned char*>(sealed.data()), &length, as_bytes(text),
                                             text.size(), nullptr, 0, nullptr, as_bytes(nonce), hand_over.key.data());
  return hex(nonce + sealed);
}

std::optional<std::string> unwrapped_text(const HandOver& hand_over, std::string_view wrapped) {
  const auto bytes = from_hex(wrapped);
  if (!bytes || bytes->size() < kNonceBytes + kTagBytes) return std::nullopt;
  const std::string_view sealed = std::string_view{*bytes}.substr(kNonceBytes);
  std::string text(sealed.size() - kTagBytes, '\0');
  unsigned long long length = 0;
  const int status = crypto_aead_xchacha20poly1305_ietf_decrypt(
      reinterpret_cast<unsigned char*>(text.data()), &length, nullptr, as_bytes(sealed), sealed.size(), nullptr, 0,
      as_bytes(*bytes), hand_over.key.data());
  if (status != 0) return std::nullopt;
  return text;
}

}  // namespace loadlight::system
