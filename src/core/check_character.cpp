#include "loadlight/core/check_character.h"

namespace loadlight::core {
namespace {

constexpr std::string_view kAlphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
constexpr unsigned kModulus = 36;

}  // namespace

// The hybrid system of ISO/IEC 7064 clause 8: P(1) = 36; S = P + a; P' = 2 (S mod 36, 36 for 0) mod 37.
std::optional<char> check_character(std::string_view text) {
  unsigned product = kModulus;
  for (char c : text) {
    const auto value = kAlphabet.find(c);
    if (value == std::string_view::npos) return std::nullopt;
    unsigned sum = (product + static_cast<unsigned>(value)) % kModulus;
    if (sum == 0) sum = kModulus;
    product = sum * 2 % (kModulus + 1);
  }
  return kAlphabet[(kModulus + 1 - product) % kModulus];
}

bool check_character_fits(std::string_view text) {
  if (text.size() < 2) return false;
  const auto expected = check_character(text.substr(0, text.size() - 1));
  return expected && *expected == text.back();
}

}  // namespace loadlight::core
