#include "vision/qr_blocks.h"

#include <catch2/catch.hpp>
#include <set>

#include "vision/qr_structure.h"
#include "vision/soft_symbols.h"

namespace loadlight::vision {
namespace {

using core::ErrorCorrection;
constexpr std::array<ErrorCorrection, 4> kLevels{ErrorCorrection::L, ErrorCorrection::M, ErrorCorrection::Q,
                                                 ErrorCorrection::H};

int data_codewords(int version, ErrorCorrection level) {
  int sum = 0;
  for (const auto& block : blocks_of(version, level)) sum += block.data();
  return sum;
}

std::string as_text(const core::SymbolGrid& grid) {
  std::string text;
  for (int y = 0; y < grid.form.side(); ++y) {
    for (int x = 0; x < grid.form.side(); ++x) text += grid.dark(x, y) ? '#' : '.';
    text += '\n';
  }
  return text;
}

}  // namespace

TEST_CASE("Blocks hold every codeword once and as much data as public tables of capacity say") {
  constexpr std::array<std::array<int, 4>, 10> kData{{{19, 16, 13, 9},
                                                      {34, 28, 22, 16},
                                                      {55, 44, 34, 26},
                                                      {80, 64, 48, 36},
                                                      {108, 86, 62, 46},
                                                      {136, 108, 76, 60},
                                                      {156, 124, 88, 66},
                                                      {194, 154, 110, 86},
                                                      {232, 182, 132, 100},
                                                      {274, 216, 154, 122}}};
  for (int version = 1; version <= kVersions; ++version) {
    for (auto level : kLevels) {
      INFO("version " << version << ", level " << core::to_text(level));
      std::set<int> places;
      std::size_t count = 0;
      for (const auto& block : blocks_of(version, level)) {
        places.insert(block.places.begin(), block.places.end());
        count += block.places.size();
      }
      CHECK(count == places.size());
      CHECK(static_cast<int>(count) == codewords_of(version));
      CHECK(*places.rbegin() == codewords_of(version) - 1);
      if (version > 10) continue;
      CHECK(data_codewords(version, level) ==
            kData[static_cast<std::size_t>(version - 1)][static_cast<std::size_t>(level)]);
    }
  }
}

TEST_CASE("Version 5-Q has two blocks of 15 data codewords, then two of 16, told apart in turn") {
  const auto blocks = blocks_of(5, ErrorCorrection::Q);
  REQUIRE(blocks.size() == 4);
  CHECK(blocks[0].data() == 15);
  CHECK(blocks[1].data() == 15);
  CHECK(blocks[2].data() == 16);
  CHECK(blocks[3].data() == 16);
  CHECK(blocks[1].places[1] == 5);
  CHECK(blocks[2].places[15] == 60);  // only longer blocks have a sixteenth
  CHECK(blocks[0].places[15] == 62);  // checks follow all data
}

// ISO/IEC 18004 annex I, "01234567" as 1-M with mask 010.
TEST_CASE("The symbol of the standard's example is drawn module by module and read back") {
  const std::vector<std::uint8_t> codewords{0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC,
                                            0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xA5, 0x24,
                                            0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55};
  const auto grid = drawn({1, ErrorCorrection::M, 2}, codewords);
  CHECK(as_text(grid) ==
        "#######..#.##.#######\n#.....#..####.#.....#\n#.###.#.#.....#.###.#\n#.###.#.##....#.###.#\n"
        "#.###.#.#.###.#.###.#\n#.....#.#...#.#.....#\n#######.#.#.#.#######\n........#..##........\n"
        "#.#####..#..#.#####..\n...#.#.##.#.#..#.##..\n..#...##.#.#.#..#####\n....#....#.....####..\n"
        "...######..#.#..#....\n........#.#####..##..\n#######..##.#.##.....\n#.....#.#.#####...#.#\n"
        "#.###.#.#...#..#.##..\n#.###.#.##..#..#.....\n#.###.#.#.##.#..#.#..\n#.....#........##.##.\n"
        "#######.####.#..#.#..\n");
  const auto seen = soft_codewords(vision_tests::soft_grid(grid, 5), 2);
  REQUIRE(seen.size() == codewords.size());
  for (std::size_t i = 0; i < seen.size(); ++i) CHECK(seen[i].value == codewords[i]);
}

TEST_CASE("A codeword's doubt grows with each uncertain module, and unknown ones are told") {
  const auto symbol = drawn({1, ErrorCorrection::M, 2}, std::vector<std::uint8_t>(26, 0x5A));
  auto grid = vision_tests::soft_grid(symbol, 8);
  const auto first = static_cast<std::size_t>(data_order(1)[0]);
  CHECK(soft_codewords(grid, 2)[0].doubt == Approx(1).margin(0.01));
  CHECK(!soft_codewords(grid, 2)[0].has_unknown_module);
  grid.dark[first] = 0;
  CHECK(soft_codewords(grid, 2)[0].doubt == Approx(2).margin(0.01));
  CHECK(soft_codewords(grid, 2)[0].has_unknown_module);
  CHECK(!soft_codewords(grid, 2)[1].has_unknown_module);
}

}  // namespace loadlight::vision
