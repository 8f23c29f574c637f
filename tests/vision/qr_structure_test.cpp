#include "vision/qr_structure.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "vision/drawn_symbol.h"

namespace loadlight::vision {
namespace {

using core::ErrorCorrection;

constexpr ErrorCorrection kLevels[] = {ErrorCorrection::L, ErrorCorrection::M, ErrorCorrection::Q,
                                       ErrorCorrection::H};

bool is_dark(const cv::Mat& symbol, ModulePlace place) {
  return symbol.at<std::uint8_t>(place.y, place.x) == 0;
}

template <typename Places>
std::uint32_t word_in(const cv::Mat& symbol, const Places& places) {
  std::uint32_t word = 0;
  for (const auto& place : places) word = word << 1 | (is_dark(symbol, place) ? 1U : 0U);
  return word;
}

int count_of(const FixedModules& fixed, ModuleKind kind) {
  return static_cast<int>(std::count(fixed.kinds.begin(), fixed.kinds.end(), kind));
}

}  // namespace

TEST_CASE("Format words are those of the standard's table, ISO/IEC 18004 table C.1") {
  constexpr std::uint16_t kWords[4][8] = {{0x77C4, 0x72F3, 0x7DAA, 0x789D, 0x662F, 0x6318, 0x6C41, 0x6976},
                                          {0x5412, 0x5125, 0x5E7C, 0x5B4B, 0x45F9, 0x40CE, 0x4F97, 0x4AA0},
                                          {0x355F, 0x3068, 0x3F31, 0x3A06, 0x24B4, 0x2183, 0x2EDA, 0x2BED},
                                          {0x1689, 0x13BE, 0x1CE7, 0x19D0, 0x0762, 0x0255, 0x0D0C, 0x083B}};
  for (std::size_t level = 0; level < 4; ++level) {
    for (int mask = 0; mask < kMasks; ++mask) {
      CHECK(format_word(kLevels[level], mask) == kWords[level][mask]);
    }
  }
}

TEST_CASE("The version word of version 7 is the standard's worked example (annex D, from memory)") {
  CHECK(version_word(7) == 0b000111'110010010100);
}

TEST_CASE("Only sides of 21 to 177 modules in steps of 4 are versions") {
  std::set<int> sides;
  for (int side = -5; side < 300; ++side) {
    if (version_of(side)) sides.insert(side);
  }
  CHECK(sides.size() == kVersions);
  CHECK(*sides.begin() == 21);
  CHECK(*sides.rbegin() == 177);
  for (int version = 1; version <= kVersions; ++version) CHECK(version_of(side_of(version)) == version);
}

TEST_CASE("Patterns, format and version words lie where libqrencode draws them, in every version and level") {
  for (int version = 1; version <= kVersions; ++version) {
    const auto& fixed = fixed_modules(version);
    for (int level = 0; level < 4; ++level) {
      INFO("version " << version << ", level " << level);
      const auto symbol = vision_tests::drawn_symbol("LL1", version, static_cast<vision_tests::Level>(level));
      REQUIRE(symbol.cols == fixed.side);
      int wrong = 0;
      for (int i = 0; i < fixed.side * fixed.side; ++i) {
        const ModulePlace place{i % fixed.side, i / fixed.side};
        const auto kind = fixed.at(place.x, place.y);
        wrong += kind == ModuleKind::Dark && !is_dark(symbol, place) ? 1 : 0;
        wrong += kind == ModuleKind::Light && is_dark(symbol, place) ? 1 : 0;
      }
      CHECK(wrong == 0);
      const auto copies = format_places(version);
      const auto format = word_in(symbol, copies[0]);
      CHECK(format == word_in(symbol, copies[1]));
      bool is_of_level = false;
      for (int mask = 0; mask < kMasks; ++mask) {
        is_of_level = is_of_level || format == format_word(kLevels[level], mask);
      }
      CHECK(is_of_level);
      if (version < kFirstVersionWithWord) continue;
      for (const auto& copy : version_places(version)) CHECK(word_in(symbol, copy) == version_word(version));
    }
  }
}

// Data modules of some versions: ISO/IEC 18004 table 1 (from memory), with remainder bits.
TEST_CASE("Versions have as many data modules as the standard's table says") {
  CHECK(data_order(1).size() == 208);
  CHECK(data_order(2).size() == 359);
  CHECK(data_order(5).size() == 1079);
  CHECK(data_order(7).size() == 1568);
  CHECK(data_order(14).size() == 4651);
  CHECK(data_order(40).size() == 29648);
  for (int version = 1; version <= kVersions; ++version) {
    const auto& fixed = fixed_modules(version);
    const auto& order = data_order(version);
    CHECK(std::set<int>(order.begin(), order.end()).size() == order.size());
    CHECK(static_cast<int>(order.size()) == count_of(fixed, ModuleKind::Data));
    CHECK(count_of(fixed, ModuleKind::Format) == 30);
    CHECK(count_of(fixed, ModuleKind::Version) == (version < kFirstVersionWithWord ? 0 : 36));
  }
}

}  // namespace loadlight::vision
