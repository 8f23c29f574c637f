// What every symbol of a version shares (ISO/IEC 18004:2015, Model 2): where its patterns lie, in which order
// its data modules run, its masks, and the words that tell its form.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "loadlight/core/symbol.h"

namespace loadlight::vision {

inline constexpr int kVersions = 40;  // versions run from 1 to 40, both included
inline constexpr int kMasks = 8;

// A module's column and row from the symbol's top left, 0 to side - 1.
struct ModulePlace final {
  int x = 0;
  int y = 0;
  friend bool operator==(const ModulePlace&, const ModulePlace&) = default;
};

int side_of(int version);                 // modules, 21 to 177
std::optional<int> version_of(int side);  // nothing if no version has this side

enum class ModuleKind : std::uint8_t {
  Dark,   // of a pattern that is the same in every symbol of the version
  Light,  // of such a pattern
  Data,   // data, check and remainder bits
  Format,
  Version,
};

struct FixedModules final {
  int side = 0;
  std::vector<ModuleKind> kinds;  // side * side, row by row

  ModuleKind at(int x, int y) const {
    return kinds[static_cast<std::size_t>(y) * static_cast<std::size_t>(side) + static_cast<std::size_t>(x)];
  }
};

// Of version 1 to 40. Made once and kept; thread-safe.
const FixedModules& fixed_modules(int version);

// The data modules (indices y * side + x) in the order in which the bits of the codewords fill them, most
// significant bit first; remainder bits last. Made once and kept; thread-safe.
const std::vector<int>& data_order(int version);

// Whether the mask (0 to 7) turns a data module over.
bool is_turned(int mask, int x, int y);

// The same of every module in data_order, 1 for those it turns. Made once and kept; thread-safe.
const std::vector<std::uint8_t>& turned_modules(int version, int mask);

// The middles of the alignment patterns, without those that finder patterns displace.
std::vector<ModulePlace> alignment_middles(int version);

// Format information: 15 bits with their BCH check bits and their own mask, and both places of each, most
// significant bit first.
std::uint16_t format_word(core::ErrorCorrection level, int mask);
using FormatPlaces = std::array<ModulePlace, 15>;
std::array<FormatPlaces, 2> format_places(int version);

// Version information: 18 bits with their BCH check bits, and both places of each, most significant bit
// first. Only versions 7 to 40 have it.
inline constexpr int kFirstVersionWithWord = 7;
std::uint32_t version_word(int version);
using VersionPlaces = std::array<ModulePlace, 18>;
std::array<VersionPlaces, 2> version_places(int version);

}  // namespace loadlight::vision
