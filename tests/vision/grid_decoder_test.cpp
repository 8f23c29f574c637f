#include "vision/grid_decoder.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>
#include <numeric>

#include "vision/qr_blocks.h"
#include "vision/qr_structure.h"
#include "vision/soft_symbols.h"

namespace loadlight::vision {
namespace {

using core::ErrorCorrection;
using vision_tests::between;
using vision_tests::drawn_symbol;
using vision_tests::Level;
using vision_tests::Random;
using vision_tests::soft_grid;

constexpr std::array<Level, 4> kLevels{Level::L, Level::M, Level::Q, Level::H};

ErrorCorrection of_core(Level level) {
  return static_cast<ErrorCorrection>(level);
}

// The longest text of bytes in this symbol, or a shorter one.
std::string text_for(int version, Level level, Random& random) {
  int data = 0;
  for (const auto& block : blocks_of(version, of_core(level))) data += block.data();
  const int most = data - (version < 10 ? 2 : 3);
  return vision_tests::random_text(static_cast<std::size_t>(between(1, most, random)), random);
}

// Places in the grid of a codeword's modules.
std::span<const int> modules_of(int version, int codeword) {
  return std::span(data_order(version)).subspan(static_cast<std::size_t>(codeword) * 8, 8);
}

// Damages so many codewords of each block: the first ones wrong, though sure; the others unknown.
void damage(SoftGrid& grid, int version, Level level, int wrong_halves, Random& random) {
  for (auto block : blocks_of(version, of_core(level))) {
    std::shuffle(block.places.begin(), block.places.end(), random);
    const int room = block.checks - 3;
    const int errors = room / 2 * wrong_halves / 4;
    const int erasures = room - 2 * errors;
    for (int i = 0; i < errors + erasures; ++i) {
      for (int module : modules_of(version, block.places[static_cast<std::size_t>(i)])) {
        auto& value = grid.dark[static_cast<std::size_t>(module)];
        value = i >= errors ? 0 : between(0, 1, random) == 1 ? -value : value;
      }
    }
  }
}

}  // namespace

TEST_CASE("What libqrencode draws is decoded, in every version and level, and drawn again as it was") {
  Random random(1);
  for (int version = 1; version <= kVersions; ++version) {
    for (auto level : kLevels) {
      INFO("version " << version << ", level " << static_cast<int>(level));
      const auto text = text_for(version, level, random);
      const auto symbol = drawn_symbol(text, version, level);
      const auto decoded = decode_grid(soft_grid(symbol, 3));
      REQUIRE(decoded);
      CHECK(decoded->text == text);
      CHECK(decoded->grid.form.version == version);
      CHECK(decoded->grid.form.level == of_core(level));
      CHECK(soft_grid(decoded->grid, 3).dark == soft_grid(symbol, 3).dark);
      for (const auto& block : decoded->blocks) CHECK(block.wrong == 0);
      CHECK(std::count(decoded->wrong.begin(), decoded->wrong.end(), true) == 0);
    }
  }
}

TEST_CASE("Errors and erasures up to the reserve are corrected, in every version and level") {
  Random random(2);
  for (int version = 1; version <= kVersions; ++version) {
    for (auto level : kLevels) {
      for (int wrong_halves = 0; wrong_halves <= 4; ++wrong_halves) {
        INFO("version " << version << ", level " << static_cast<int>(level) << ", errors " << wrong_halves);
        const auto text = text_for(version, level, random);
        const auto symbol = drawn_symbol(text, version, level);
        auto grid = soft_grid(symbol, 3);
        damage(grid, version, level, wrong_halves, random);
        const auto decoded = decode_grid(grid);
        REQUIRE(decoded);
        CHECK(decoded->text == text);
        CHECK(soft_grid(decoded->grid, 3).dark == soft_grid(symbol, 3).dark);
      }
    }
  }
}

TEST_CASE("A symbol with more than a block can bear, its reserve kept, is not decoded") {
  Random random(3);
  for (int round = 0; round < 200; ++round) {
    const int version = between(1, 10, random);
    const auto level = kLevels[static_cast<std::size_t>(between(0, 3, random))];
    auto grid = soft_grid(drawn_symbol(text_for(version, level, random), version, level), 3);
    const auto block = blocks_of(version, of_core(level)).front();
    for (int i = 0; i <= block.checks - 2; ++i) {
      for (int module : modules_of(version, block.places[static_cast<std::size_t>(i)])) {
        grid.dark[static_cast<std::size_t>(module)] = 0;
      }
    }
    CHECK(!decode_grid(grid));
  }
}

TEST_CASE("One copy of the format and a finder pattern may be covered, surely wrong") {
  Random random(4);
  const auto text = text_for(5, Level::Q, random);
  auto grid = soft_grid(drawn_symbol(text, 5, Level::Q), 3);
  for (int y = 0; y < 9; ++y) {
    for (int x = 0; x < 9; ++x) grid.dark[static_cast<std::size_t>(y * grid.side + x)] = -3;
  }
  const auto decoded = decode_grid(grid);
  REQUIRE(decoded);
  CHECK(decoded->text == text);
}

TEST_CASE("Random modules never decode, with random patterns or the right ones") {
  Random random(5);
  int decoded = 0;
  for (int round = 0; round < 3000; ++round) {
    const int version = between(1, 6, random);
    auto grid = vision_tests::random_grid(side_of(version), 2, random);
    decoded += decode_grid(grid) ? 1 : 0;
    const auto level = static_cast<ErrorCorrection>(between(0, 3, random));
    const auto frame = soft_grid(drawn({version, level, between(0, 7, random)}, {}), 2);
    for (std::size_t i = 0; i < grid.dark.size(); ++i) {
      if (fixed_modules(version).kinds[i] != ModuleKind::Data) grid.dark[i] = frame.dark[i];
    }
    decoded += decode_grid(grid) ? 1 : 0;
    vision_tests::cover(grid, 0.3, 0, random);
    decoded += decode_grid(grid) ? 1 : 0;
  }
  CHECK(decoded == 0);
}

TEST_CASE("Symbols damaged far beyond repair never decode as another text") {
  Random random(6);
  int right = 0;
  int wrong = 0;
  for (int round = 0; round < 6000; ++round) {
    const int version = between(1, 6, random);
    const auto level = kLevels[static_cast<std::size_t>(between(0, 3, random))];
    const auto text = text_for(version, level, random);
    auto grid = soft_grid(drawn_symbol(text, version, level), 2);
    vision_tests::cover(grid, 0.01 * between(1, 40, random), 2, random);
    vision_tests::cover(grid, 0.01 * between(0, 30, random), 0, random);
    const auto decoded = decode_grid(grid);
    right += decoded && decoded->text == text ? 1 : 0;
    wrong += decoded && decoded->text != text ? 1 : 0;
  }
  CHECK(wrong == 0);
  CHECK(right > 600);
}

TEST_CASE("Four shots, each with another third of the symbol unknown, are fused and decoded") {
  Random random(7);
  const auto text = text_for(5, Level::M, random);
  const auto symbol = drawn_symbol(text, 5, Level::M);
  std::vector<SoftGrid> shots(4, soft_grid(symbol, 3));
  for (std::size_t i = 0; i < shots.size(); ++i) {
    for (std::size_t m = 0; m < shots[i].dark.size(); ++m)
      shots[i].dark[m] = (m + i) % 3 == 0 ? 0 : shots[i].dark[m];
    CHECK(!decode_grid(shots[i]));
  }
  const auto decoded = decode_grid(fuse(shots));
  REQUIRE(decoded);
  CHECK(decoded->text == text);
}

TEST_CASE("Grids of no version's size, of the wrong count, or with values that are no numbers are nothing") {
  for (int side = -3; side < 200; ++side) {
    for (int count : {0, 1, side * side - 1, side * side, side * side + 1}) {
      CHECK(!decode_grid({side, std::vector<float>(static_cast<std::size_t>(std::max(count, 0)), 1.F)}));
    }
  }
  auto grid = soft_grid(drawn_symbol("LL1", 1, Level::M), 3);
  REQUIRE(decode_grid(grid));
  grid.dark[100] = std::numeric_limits<float>::quiet_NaN();
  CHECK(!decode_grid(grid));
  grid.dark[100] = std::numeric_limits<float>::infinity();
  CHECK(!decode_grid(grid));
}

TEST_CASE("A blank grid, of which nothing is known, is nothing") {
  for (int version = 1; version <= kVersions; ++version) {
    const auto side = static_cast<std::size_t>(side_of(version));
    CHECK(!decode_grid({side_of(version), std::vector<float>(side * side, 0.F)}));
  }
}

}  // namespace loadlight::vision
