#include "loadlight/core/names.h"

#include <algorithm>
#include <charconv>

#include "loadlight/core/base32.h"
#include "loadlight/core/check_character.h"

namespace loadlight::core {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_code_character(char c) { return is_digit(c) || (c >= 'A' && c <= 'Z'); }
bool is_confusable(char c) { return c == 'I' || c == 'L' || c == 'O' || c == 'U'; }

bool is_package_id(std::string_view text) {
  return text.size() == PackageId::kLength && base32_normalized(text) == text &&
         check_character_fits(text);
}

}  // namespace

std::optional<PackageId> PackageId::from_random(std::span<const std::uint8_t, kRandomBytes> bytes) {
  std::string text = base32_of_bits(bytes, kLength - 1);
  const auto check = check_character(text);
  if (!check || is_confusable(*check)) return std::nullopt;
  text.push_back(*check);
  return PackageId{std::move(text)};
}

std::optional<PackageId> PackageId::parse_typed(std::string_view typed) {
  const auto normal = base32_normalized(typed);
  return normal ? parse_exact(*normal) : std::nullopt;
}

std::optional<PackageId> PackageId::parse_exact(std::string_view text) {
  if (!is_package_id(text)) return std::nullopt;
  return PackageId{std::string{text}};
}

std::string PackageId::grouped() const {
  return text_.substr(0, 3) + "-" + text_.substr(3, 3) + "-" + text_.substr(6);
}

std::optional<LoadName> LoadName::parse(std::string_view text) {
  const auto dash = text.find('-');
  if (dash == std::string_view::npos || !is_code(text.substr(0, dash), kSterilizerCodeLength)) {
    return std::nullopt;
  }
  const std::string_view digits = text.substr(dash + 1);
  if (digits.empty() || digits.size() > 5 || digits.front() == '0') return std::nullopt;
  if (!std::all_of(digits.begin(), digits.end(), is_digit)) return std::nullopt;
  LoadName name{std::string{text.substr(0, dash)}, 0};
  std::from_chars(digits.data(), digits.data() + digits.size(), name.number);
  return name;
}

std::string LoadName::text() const { return sterilizer + "-" + std::to_string(number); }

bool is_code(std::string_view code, std::size_t longest) {
  return !code.empty() && code.size() <= longest &&
         std::all_of(code.begin(), code.end(), is_code_character);
}

bool is_visit_reference(std::string_view reference) {
  const auto allowed = [](char c) { return is_code_character(c) || c == '-'; };
  return reference.size() >= 3 && reference.size() <= 16 &&
         std::all_of(reference.begin(), reference.end(), allowed) &&
         std::any_of(reference.begin(), reference.end(), is_digit);
}

}  // namespace loadlight::core
