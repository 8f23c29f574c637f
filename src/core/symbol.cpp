#include "loadlight/core/symbol.h"

#include <array>

namespace loadlight::core {
namespace {

// ISO/IEC 18004:2015 table 7, alphanumeric columns, versions 1 to 10; order L, M, Q, H.
constexpr std::array<std::array<int, 4>, 10> kAlphanumericCapacity{{
    {25, 20, 16, 10},
    {47, 38, 29, 20},
    {77, 61, 47, 35},
    {114, 90, 67, 50},
    {154, 122, 87, 64},
    {195, 154, 108, 84},
    {224, 178, 125, 93},
    {279, 221, 157, 122},
    {335, 262, 189, 143},
    {395, 311, 221, 174},
}};

}  // namespace

std::string_view to_text(ErrorCorrection level) {
  switch (level) {
    case ErrorCorrection::L:
      return "L";
    case ErrorCorrection::M:
      return "M";
    case ErrorCorrection::Q:
      return "Q";
    case ErrorCorrection::H:
      return "H";
  }
  return "L";
}

std::optional<ErrorCorrection> parse_error_correction(std::string_view text) {
  for (auto level : {ErrorCorrection::L, ErrorCorrection::M, ErrorCorrection::Q, ErrorCorrection::H}) {
    if (to_text(level) == text) return level;
  }
  return std::nullopt;
}

int alphanumeric_capacity(int version, ErrorCorrection level) {
  if (version < 1 || version > static_cast<int>(kAlphanumericCapacity.size())) return 0;
  return kAlphanumericCapacity[static_cast<std::size_t>(version - 1)][static_cast<std::size_t>(level)];
}

}  // namespace loadlight::core
