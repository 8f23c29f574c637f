#include <catch2/catch.hpp>

#include "loadlight/render/render.h"
#include "render/symbol_mask.h"
#include "render/symbol_reading.h"
#include "render/zint_symbol.h"

using namespace loadlight;
using core::ErrorCorrection;
using core::FailureCode;
using tests::Codewords;

namespace {

using tests::kLevels;

// ISO/IEC 18004 table 7: data codewords of versions 1 to 10, order L, M, Q, H.
constexpr int kDataCodewords[10][4] = {
    {19, 16, 13, 9},    {34, 28, 22, 16},   {55, 44, 34, 26},    {80, 64, 48, 36},     {108, 86, 62, 46},
    {136, 108, 76, 60}, {156, 124, 88, 66}, {194, 154, 110, 86}, {232, 182, 132, 100}, {274, 216, 154, 122}};
// ISO/IEC 18004 annex I: "01234567" in version 1-M. The mask of the standard's figure, 2, is from memory;
// the picture was computed by an encoder that reproduces a published full symbol exactly.
const std::string kAnnexI =
    "#######..#.##.#######\n#.....#..####.#.....#\n#.###.#.#.....#.###.#\n#.###.#.##....#.###.#\n"
    "#.###.#.#.###.#.###.#\n#.....#.#...#.#.....#\n#######.#.#.#.#######\n........#..##........\n"
    "#.#####..#..#.#####..\n...#.#.##.#.#..#.##..\n..#...##.#.#.#..#####\n....#....#.....####..\n"
    "...######..#.#..#....\n........#.#####..##..\n#######..##.#.##.....\n#.....#.#.#####...#.#\n"
    "#.###.#.#...#..#.##..\n#.###.#.##..#..#.....\n#.###.#.#.##.#..#.#..\n#.....#........##.##.\n"
    "#######.####.#..#.#..\n";

core::SymbolGrid encoded(const std::string& text, int version, ErrorCorrection level,
                         std::optional<int> mask = std::nullopt) {
  auto grid = render::make_symbol_encoder()->encode(text, version, level, mask);
  REQUIRE(grid);
  return *std::move(grid);
}

}  // namespace

TEST_CASE("The reading of symbols used by these tests reads the standard's annex I") {
  const auto grid = tests::grid_from_picture(kAnnexI, {1, ErrorCorrection::M, 2});
  REQUIRE(grid.modules.size() == 21 * 21);
  CHECK(tests::first_format_word(grid) == 0x5E7C);  // 101111001111100
  CHECK(tests::second_format_word(grid) == 0x5E7C);
  const auto blocks = tests::blocks_of(tests::codewords_of(grid, 2), 1, ErrorCorrection::M);
  CHECK(blocks[0].data == Codewords{0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11,
                                    0xEC, 0x11, 0xEC, 0x11});
  CHECK(blocks[0].correction == Codewords{0xA5, 0x24, 0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55});
  CHECK(tests::correction_of(blocks[0].data, 10) == blocks[0].correction);
  // Zint, made to use mask 2, draws the same picture.
  CHECK(tests::zint_symbol(tests::WorkFolder{}, "01234567", 1, ErrorCorrection::M, "--mask=2").modules ==
        grid.modules);
}

TEST_CASE("Its error correction gives the published answers") {
  // Known answers published in the tests of a barcode library.
  CHECK(tests::correction_of({32, 49, 205, 69, 42, 20, 0, 236, 17}, 17) ==
        Codewords{0, 3, 130, 179, 194, 0, 55, 211, 110, 79, 98, 72, 170, 96, 211, 137, 213});
  CHECK(tests::correction_of({32, 65, 205, 69, 41, 220, 46, 128, 236}, 17) ==
        Codewords{42, 159, 74, 221, 244, 169, 239, 150, 138, 70, 237, 85, 224, 96, 74, 219, 61});
  CHECK(tests::correction_of({67, 70, 22, 38, 54, 70, 86, 102, 118, 134, 150, 166, 182, 198, 214}, 18) ==
        Codewords{175, 80, 155, 64, 178, 45, 214, 233, 65, 209, 12, 155, 117, 31, 140, 214, 27, 187});
}

TEST_CASE("The encoder draws ABCDEF in version 1-H as published") {
  const auto grid = encoded("ABCDEF", 1, ErrorCorrection::H, 0);
  const auto blocks = tests::blocks_of(tests::codewords_of(grid, 0), 1, ErrorCorrection::H);
  CHECK(blocks[0].data == Codewords{32, 49, 205, 69, 42, 20, 0, 236, 17});
  CHECK(blocks[0].correction ==
        Codewords{0, 3, 130, 179, 194, 0, 55, 211, 110, 79, 98, 72, 170, 96, 211, 137, 213});
}

TEST_CASE("Both copies of the format information are table C.1's at all levels and masks") {
  for (ErrorCorrection level : kLevels) {
    for (int mask = 0; mask < 8; ++mask) {
      const std::uint32_t expected = tests::format_word(level, mask);
      CHECK(render::format_bits(level, mask) == expected);
      const auto grid = encoded("LL1", 3, level, mask);
      CHECK(grid.form == core::SymbolForm{3, level, mask});
      CHECK(tests::first_format_word(grid) == expected);
      CHECK(tests::second_format_word(grid) == expected);
    }
  }
}

TEST_CASE("A forced mask changes the mask and nothing else") {
  for (int version : {1, 2, 5, 7, 10}) {
    for (ErrorCorrection level : kLevels) {
      const std::string text = tests::alphanumeric_sample(tests::published_capacity(version, level));
      const auto own = encoded(text, version, level);
      CHECK(own.form.mask == tests::mask_of(own));
      for (int mask = 0; mask < 8; ++mask) {
        const auto forced = encoded(text, version, level, mask);
        CHECK(tests::unmasked_data(forced, mask) == tests::unmasked_data(own, own.form.mask));
        CHECK(tests::fixed_patterns(forced) == tests::fixed_patterns(own));
      }
      CHECK(encoded(text, version, level, own.form.mask) == own);
    }
  }
}

TEST_CASE("Every version and level holds what the standard says, to the character") {
  const auto encoder = render::make_symbol_encoder();
  for (int version = 1; version <= 10; ++version) {
    for (ErrorCorrection level : kLevels) {
      const int capacity = tests::published_capacity(version, level);
      CHECK(core::alphanumeric_capacity(version, level) == capacity);
      CHECK(tests::data_codewords(version, level) == kDataCodewords[version - 1][static_cast<int>(level)]);
      CHECK(encoder->encode(tests::alphanumeric_sample(capacity), version, level, std::nullopt));
      const auto more =
          encoder->encode(tests::alphanumeric_sample(capacity + 1), version, level, std::nullopt);
      REQUIRE_FALSE(more);
      CHECK(more.failure().code == FailureCode::SymbolDoesNotFit);
    }
  }
}

TEST_CASE("What the encoder draws reads back as the text, with right error correction") {
  for (int version = 1; version <= 10; ++version) {
    for (ErrorCorrection level : kLevels) {
      const int capacity = tests::published_capacity(version, level);
      for (int length : {1, capacity / 2, capacity - 1, capacity}) {
        const auto grid = encoded(tests::alphanumeric_sample(length), version, level);
        const auto blocks = tests::blocks_of(tests::codewords_of(grid, grid.form.mask), version, level);
        for (const auto& block : blocks) {
          CHECK(tests::correction_of(block.data, block.correction.size()) == block.correction);
        }
        CHECK(tests::alphanumeric_text(blocks, version) == tests::alphanumeric_sample(length));
      }
    }
  }
}

TEST_CASE("Texts, versions and masks that the port does not take are refused") {
  const auto encoder = render::make_symbol_encoder();
  const auto code = [&](std::string_view text, int version, std::optional<int> mask) {
    const auto grid = encoder->encode(text, version, ErrorCorrection::M, mask);
    return grid ? FailureCode::Internal : grid.failure().code;
  };
  CHECK(code("", 1, std::nullopt) == FailureCode::BadValue);
  CHECK(code("lower", 1, std::nullopt) == FailureCode::BadValue);
  CHECK(code(std::string_view{"A\0B", 3}, 1, std::nullopt) == FailureCode::BadValue);
  CHECK(code("A", 0, std::nullopt) == FailureCode::BadValue);
  CHECK(code("A", 41, std::nullopt) == FailureCode::BadValue);
  CHECK(code("A", 1, 8) == FailureCode::BadValue);
  CHECK(code("A", 1, -1) == FailureCode::BadValue);
  CHECK(code(std::string(100000, 'A'), 40, std::nullopt) == FailureCode::SymbolDoesNotFit);
}
