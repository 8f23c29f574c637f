#include "vision/grid_match.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "loadlight/core/audit.h"
#include "vision/grid_decoder.h"
#include "vision/soft_symbols.h"

namespace loadlight::vision {
namespace {

using core::SymbolGrid;
using vision_tests::between;
using vision_tests::Level;
using vision_tests::Random;

struct Size final {
  int version;
  Level level;
};
constexpr std::array<Size, 4> kSizes{{{4, Level::M}, {5, Level::M}, {5, Level::Q}, {6, Level::Q}}};

std::string random_letters(std::size_t length, Random& random) {
  constexpr std::string_view kLetters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
  std::string text(length, ' ');
  for (auto& c : text) c = kLetters[static_cast<std::size_t>(between(0, 31, random))];
  return text;
}

// As labels of one load: only the package's id and the authenticator differ.
std::string label_text(const std::string& load, Random& random) {
  return "LL1.S" + random_letters(10, random) + ".1T" + load + ".16D20260301.H7.PHP1.BP.Z" +
         random_letters(13, random);
}

SymbolGrid symbol_of(const std::string& text, Size size) {
  const auto symbol = vision_tests::drawn_symbol(text, size.version, size.level);
  return decode_grid(vision_tests::soft_grid(symbol, 5)).value().grid;
}

std::vector<SymbolGrid> symbols_of_load(std::size_t count, Size size, Random& random) {
  std::vector<SymbolGrid> symbols;
  while (symbols.size() < count) symbols.push_back(symbol_of(label_text("S1-117", random), size));
  return symbols;
}

// Noise, likelihoods twice as sure as they should be, and patches of which nothing, or something false, is
// known.
SoftGrid damaged(const SymbolGrid& symbol, Random& random) {
  auto grid = vision_tests::noisy(symbol, 0.1 * between(3, 20, random), 2, random);
  vision_tests::cover(grid, 0.01 * between(0, 60, random), 0, random);
  vision_tests::cover(grid, 0.01 * between(0, 30, random), 6, random);
  return grid;
}

bool is_accepted(const std::optional<GridLikelihood>& match) {
  return match && core::is_certain_match(match->over_second, match->over_chance);
}

}  // namespace

TEST_CASE("A symbol is told among others of its load, though 60 % of it is covered") {
  Random random(1);
  int told = 0;
  int wrong = 0;
  for (const auto& size : kSizes) {
    const auto candidates = symbols_of_load(20, size, random);
    for (std::size_t i = 0; i < candidates.size(); ++i) {
      auto seen = vision_tests::soft_grid(candidates[i], 3);
      for (auto& value : seen.dark) value = between(1, 100, random) <= 60 ? 0 : value;
      CHECK(!decode_grid(seen));
      const auto match = match_grid(seen, candidates);
      told += is_accepted(match) && match->candidate == i ? 1 : 0;
      wrong += match && match->candidate != i ? 1 : 0;
    }
  }
  CHECK(wrong == 0);
  CHECK(told >= 72);
}

TEST_CASE("However damaged, no symbol is taken for another of its load or for one that is not there") {
  Random random(2);
  int right = 0;
  int wrong = 0;
  int strangers = 0;
  for (const auto& size : kSizes) {
    const auto all = symbols_of_load(60, size, random);
    const auto candidates = std::span(all).first(20);
    for (int round = 0; round < 1500; ++round) {
      const auto i = static_cast<std::size_t>(between(0, 59, random));
      const auto seen = damaged(all[i], random);
      const auto match = match_grid(seen, candidates);
      const auto alone = match_grid(seen, candidates.first(1));
      if (is_accepted(match)) ++(i >= 20 ? strangers : match->candidate == i ? right : wrong);
      if (is_accepted(alone) && i != 0) ++strangers;
    }
  }
  CHECK(wrong == 0);
  CHECK(strangers == 0);
  CHECK(right > 150);
}

TEST_CASE("Random modules are none of the candidates") {
  Random random(3);
  const auto candidates = symbols_of_load(40, kSizes[2], random);
  double most = -1000;
  for (int round = 0; round < 2000; ++round) {
    const auto match = match_grid(vision_tests::random_grid(37, 4, random), candidates);
    REQUIRE(match);
    CHECK(!is_accepted(match));
    most = std::max(most, match->over_chance);
  }
  CHECK(most < core::kMatchOverChance / 2);
}

TEST_CASE("Only candidates of the symbol's size count: of none, nothing, and alone, one has no second") {
  Random random(4);
  const auto small = symbols_of_load(1, kSizes[0], random);
  const auto large = symbols_of_load(1, kSizes[2], random);
  const auto seen = vision_tests::soft_grid(large[0], 3);
  CHECK(!match_grid(seen, {}));
  CHECK(!match_grid(seen, small));
  CHECK(!match_grid({37, {}}, large));
  const auto alone = match_grid(seen, large);
  REQUIRE(alone);
  CHECK(std::isinf(alone->over_second));
  CHECK(is_accepted(alone));
  const std::vector<SymbolGrid> both{small[0], large[0]};
  CHECK(match_grid(seen, both)->candidate == 1);
  const std::vector<SymbolGrid> twice{large[0], large[0]};
  CHECK(!is_accepted(match_grid(seen, twice)));
}

TEST_CASE("Where nothing is known nothing is told") {
  Random random(5);
  const auto candidates = symbols_of_load(3, kSizes[1], random);
  const auto match = match_grid({37, std::vector<float>(37 * 37, 0.F)}, candidates);
  REQUIRE(match);
  CHECK(match->over_chance == Approx(0).margin(1e-9));
  CHECK(match->over_second == Approx(0).margin(1e-9));
}

}  // namespace loadlight::vision
