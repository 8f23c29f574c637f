#include <catch2/catch.hpp>
#include <iostream>

#include "loadlight/render/render.h"
#include "render/outside_tool.h"
#include "render/symbol_mask.h"
#include "render/symbol_reading.h"

using namespace loadlight;
using core::ErrorCorrection;
using core::FailureCode;
using tests::Codewords;

namespace {

constexpr ErrorCorrection kLevels[] = {ErrorCorrection::L, ErrorCorrection::M, ErrorCorrection::Q,
                                       ErrorCorrection::H};

// ISO/IEC 18004 table C.1, by level L, M, Q, H and mask 0 to 7.
constexpr std::uint32_t kFormatWords[4][8] = {
    {0x77C4, 0x72F3, 0x7DAA, 0x789D, 0x662F, 0x6318, 0x6C41, 0x6976},
    {0x5412, 0x5125, 0x5E7C, 0x5B4B, 0x45F9, 0x40CE, 0x4F97, 0x4AA0},
    {0x355F, 0x3068, 0x3F31, 0x3A06, 0x24B4, 0x2183, 0x2EDA, 0x2BED},
    {0x1689, 0x13BE, 0x1CE7, 0x19D0, 0x0762, 0x0255, 0x0D0C, 0x083B}};

// ISO/IEC 18004 table 7: data codewords of versions 1 to 10, order L, M, Q, H.
constexpr int kDataCodewords[10][4] = {{19, 16, 13, 9},      {34, 28, 22, 16},     {55, 44, 34, 26},
                                       {80, 64, 48, 36},     {108, 86, 62, 46},    {136, 108, 76, 60},
                                       {156, 124, 88, 66},   {194, 154, 110, 86},  {232, 182, 132, 100},
                                       {274, 216, 154, 122}};
// The same table's alphanumeric characters.
constexpr int kCapacity[10][4] = {{25, 20, 16, 10},     {47, 38, 29, 20},     {77, 61, 47, 35},
                                  {114, 90, 67, 50},    {154, 122, 87, 64},   {195, 154, 108, 84},
                                  {224, 178, 125, 93},  {279, 221, 157, 122}, {335, 262, 189, 143},
                                  {395, 311, 221, 174}};

// ISO/IEC 18004 annex I: "01234567" in version 1-M. The mask of the standard's figure, 2, is from memory;
// the picture was computed by an encoder that reproduces a published full symbol exactly.
const std::string kAnnexI =
    "#######..#.##.#######\n#.....#..####.#.....#\n#.###.#.#.....#.###.#\n#.###.#.##....#.###.#\n"
    "#.###.#.#.###.#.###.#\n#.....#.#...#.#.....#\n#######.#.#.#.#######\n........#..##........\n"
    "#.#####..#..#.#####..\n...#.#.##.#.#..#.##..\n..#...##.#.#.#..#####\n....#....#.....####..\n"
    "...######..#.#..#....\n........#.#####..##..\n#######..##.#.##.....\n#.....#.#.#####...#.#\n"
    "#.###.#.#...#..#.##..\n#.###.#.##..#..#.....\n#.###.#.#.##.#..#.#..\n#.....#........##.##.\n"
    "#######.####.#..#.#..\n";

// `length` characters that run through the whole alphanumeric set.
std::string text_of(int length) {
  constexpr std::string_view kSet = "LL1.S0123456789ABCDEFGHIJKMNOPQRTUVWXYZ $%*+-/:";
  std::string text;
  for (int i = 0; i < length; ++i) text += kSet[static_cast<std::size_t>(i * 7 + i / 47) % kSet.size()];
  return text;
}

core::SymbolGrid encoded(const std::string& text, int version, ErrorCorrection level,
                         std::optional<int> mask = std::nullopt) {
  auto grid = render::make_symbol_encoder()->encode(text, version, level, mask);
  REQUIRE(grid);
  return *std::move(grid);
}

// The modules as Zint draws them at a version and level, alphanumeric mode (which it picks for such text).
core::SymbolGrid zint_grid(const tests::WorkFolder& folder, const std::string& text, int version,
                           ErrorCorrection level, const std::string& more = "") {
  const std::string input = folder.write("text", text);
  const std::string dump = tests::run_or_throw("zint --barcode=58 --vers=" + std::to_string(version) +
                                               " --secure=" + std::to_string(static_cast<int>(level) + 1) +
                                               " --dump " + more + " -i " + input);
  core::SymbolGrid grid{{version, level, 0}, {}};
  for (const std::string& line : tests::lines_of(dump)) {
    std::vector<std::uint8_t> row;
    for (char c : line) {
      if (c == ' ' || c == '\r') continue;
      const int nibble = c <= '9' ? c - '0' : c - 'A' + 10;
      for (int bit = 3; bit >= 0; --bit) row.push_back(static_cast<std::uint8_t>(nibble >> bit & 1));
    }
    row.resize(static_cast<std::size_t>(grid.form.side()));
    grid.modules.insert(grid.modules.end(), row.begin(), row.end());
  }
  return grid;
}

int mask_of(const core::SymbolGrid& grid) {
  const std::uint32_t word = tests::first_format_word(grid);
  for (int mask = 0; mask < 8; ++mask) {
    if (kFormatWords[static_cast<int>(grid.form.level)][mask] == word) return mask;
  }
  throw std::runtime_error("no format word of this level");
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
  CHECK(zint_grid(tests::WorkFolder{}, "01234567", 1, ErrorCorrection::M, "--mask=2").modules == grid.modules);
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
      const std::uint32_t expected = kFormatWords[static_cast<int>(level)][mask];
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
      const std::string text = text_of(kCapacity[version - 1][static_cast<int>(level)]);
      const auto own = encoded(text, version, level);
      CHECK(own.form.mask == mask_of(own));
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
      const int capacity = kCapacity[version - 1][static_cast<int>(level)];
      CHECK(core::alphanumeric_capacity(version, level) == capacity);
      CHECK(tests::data_codewords(version, level) == kDataCodewords[version - 1][static_cast<int>(level)]);
      CHECK(encoder->encode(text_of(capacity), version, level, std::nullopt));
      const auto more = encoder->encode(text_of(capacity + 1), version, level, std::nullopt);
      REQUIRE_FALSE(more);
      CHECK(more.failure().code == FailureCode::SymbolDoesNotFit);
    }
  }
}

TEST_CASE("What the encoder draws reads back as the text, with right error correction") {
  for (int version = 1; version <= 10; ++version) {
    for (ErrorCorrection level : kLevels) {
      const int capacity = kCapacity[version - 1][static_cast<int>(level)];
      for (int length : {1, capacity / 2, capacity - 1, capacity}) {
        const auto grid = encoded(text_of(length), version, level);
        const auto blocks = tests::blocks_of(tests::codewords_of(grid, grid.form.mask), version, level);
        for (const auto& block : blocks) {
          CHECK(tests::correction_of(block.data, block.correction.size()) == block.correction);
        }
        CHECK(tests::alphanumeric_text(blocks, version) == text_of(length));
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

TEST_CASE("Module by module, symbols equal Zint's once each one's mask is off") {
  const tests::WorkFolder folder;
  int compared = 0;
  int modules = 0;
  for (int version = 1; version <= 10; ++version) {
    for (ErrorCorrection level : kLevels) {
      const int capacity = kCapacity[version - 1][static_cast<int>(level)];
      for (int length : {capacity, capacity - 3}) {
        CAPTURE(version, static_cast<int>(level), length);
        const auto ours = encoded(text_of(length), version, level);
        const auto theirs = zint_grid(folder, text_of(length), version, level);
        REQUIRE(theirs.modules.size() == ours.modules.size());
        CHECK(tests::unmasked_data(ours, ours.form.mask) == tests::unmasked_data(theirs, mask_of(theirs)));
        CHECK(tests::fixed_patterns(ours) == tests::fixed_patterns(theirs));
        ++compared;
        modules += static_cast<int>(ours.modules.size());
      }
    }
  }
  std::cout << "compared with Zint: " << compared << " symbols, " << modules << " modules\n";
  REQUIRE(compared > 0);
}
