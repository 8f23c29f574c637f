// The names things go by on a label and in the record: package ids, load names and office codes.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace loadlight::core {

// Ten characters: nine of Crockford's base32, drawn at random, and their ISO/IEC 7064 MOD 37,36 check
// character, which is never I, L, O or U. Random, so that a slip of the finger seldom names another
// package.
class PackageId final {
 public:
  static constexpr std::size_t kLength = 10;
  static constexpr std::size_t kRandomBytes = 6;  // 48 bits, of which 45 are used

  // The id these random bytes draw; nothing when its check character is I, L, O or U: draw again.
  static std::optional<PackageId> from_random(std::span<const std::uint8_t, kRandomBytes> bytes);
  // What a person typed: any case, hyphens and spaces ignored, I and L for 1, O for 0.
  static std::optional<PackageId> parse_typed(std::string_view typed);
  // Exactly as in a payload: ten characters, nothing forgiven.
  static std::optional<PackageId> parse_exact(std::string_view text);

  const std::string& text() const { return text_; }
  std::string grouped() const;  // "ABC-DEF-GHJK", for the eye

  friend bool operator==(const PackageId&, const PackageId&) = default;
  friend auto operator<=>(const PackageId&, const PackageId&) = default;

 private:
  explicit PackageId(std::string text) : text_(std::move(text)) {}
  std::string text_;
};

// A run of a sterilizer's chamber: the sterilizer's code and its number in that sterilizer's sequence.
struct LoadName final {
  static constexpr int kLastNumber = 99999;

  std::string sterilizer;  // [0-9A-Z]{1,3}
  int number = 0;          // 1 to 99999, both included

  // "S1-204": no leading zeros.
  static std::optional<LoadName> parse(std::string_view text);
  std::string text() const;

  friend bool operator==(const LoadName&, const LoadName&) = default;
  friend auto operator<=>(const LoadName&, const LoadName&) = default;
};

// The longest code of each table: what fits a label's payload (payload.h).
inline constexpr std::size_t kSterilizerCodeLength = 3;
inline constexpr std::size_t kOperatorCodeLength = 4;
inline constexpr std::size_t kContentsCodeLength = 8;
inline constexpr std::size_t kKindCodeLength = 3;
inline constexpr std::size_t kLocationCodeLength = 8;
inline constexpr std::size_t kStockCodeLength = 8;
inline constexpr std::size_t kProgramCodeLength = 8;

// True iff `code` is 1 to `longest` characters of [0-9A-Z].
bool is_code(std::string_view code, std::size_t longest);

// True iff `reference` is [0-9A-Z-]{3,16} with at least one digit: opaque, and no person's name.
bool is_visit_reference(std::string_view reference);

}  // namespace loadlight::core
