#include "vision/qr_blocks.h"

#include <algorithm>
#include <cmath>

#include "vision/qr_structure.h"

namespace loadlight::vision {
namespace {

// Check codewords in each block, and how many blocks there are; columns L, M, Q, H, a row for each version
// (ISO/IEC 18004:2015, table 9). Blocks of one symbol differ by at most one data codeword, shorter ones
// first.
struct Parting final {
  int checks = 0;
  int blocks = 0;
};
// clang-format off
constexpr std::array<std::array<Parting, 4>, kVersions> kPartings{{
    {{{7, 1}, {10, 1}, {13, 1}, {17, 1}}},
    {{{10, 1}, {16, 1}, {22, 1}, {28, 1}}},
    {{{15, 1}, {26, 1}, {18, 2}, {22, 2}}},
    {{{20, 1}, {18, 2}, {26, 2}, {16, 4}}},
    {{{26, 1}, {24, 2}, {18, 4}, {22, 4}}},
    {{{18, 2}, {16, 4}, {24, 4}, {28, 4}}},
    {{{20, 2}, {18, 4}, {18, 6}, {26, 5}}},
    {{{24, 2}, {22, 4}, {22, 6}, {26, 6}}},
    {{{30, 2}, {22, 5}, {20, 8}, {24, 8}}},
    {{{18, 4}, {26, 5}, {24, 8}, {28, 8}}},
    {{{20, 4}, {30, 5}, {28, 8}, {24, 11}}},
    {{{24, 4}, {22, 8}, {26, 10}, {28, 11}}},
    {{{26, 4}, {22, 9}, {24, 12}, {22, 16}}},
    {{{30, 4}, {24, 9}, {20, 16}, {24, 16}}},
    {{{22, 6}, {24, 10}, {30, 12}, {24, 18}}},
    {{{24, 6}, {28, 10}, {24, 17}, {30, 16}}},
    {{{28, 6}, {28, 11}, {28, 16}, {28, 19}}},
    {{{30, 6}, {26, 13}, {28, 18}, {28, 21}}},
    {{{28, 7}, {26, 14}, {26, 21}, {26, 25}}},
    {{{28, 8}, {26, 16}, {30, 20}, {28, 25}}},
    {{{28, 8}, {26, 17}, {28, 23}, {30, 25}}},
    {{{28, 9}, {28, 17}, {30, 23}, {24, 34}}},
    {{{30, 9}, {28, 18}, {30, 25}, {30, 30}}},
    {{{30, 10}, {28, 20}, {30, 27}, {30, 32}}},
    {{{26, 12}, {28, 21}, {30, 29}, {30, 35}}},
    {{{28, 12}, {28, 23}, {28, 34}, {30, 37}}},
    {{{30, 12}, {28, 25}, {30, 34}, {30, 40}}},
    {{{30, 13}, {28, 26}, {30, 35}, {30, 42}}},
    {{{30, 14}, {28, 28}, {30, 38}, {30, 45}}},
    {{{30, 15}, {28, 29}, {30, 40}, {30, 48}}},
    {{{30, 16}, {28, 31}, {30, 43}, {30, 51}}},
    {{{30, 17}, {28, 33}, {30, 45}, {30, 54}}},
    {{{30, 18}, {28, 35}, {30, 48}, {30, 57}}},
    {{{30, 19}, {28, 37}, {30, 51}, {30, 60}}},
    {{{30, 19}, {28, 38}, {30, 53}, {30, 63}}},
    {{{30, 20}, {28, 40}, {30, 56}, {30, 66}}},
    {{{30, 21}, {28, 43}, {30, 59}, {30, 70}}},
    {{{30, 22}, {28, 45}, {30, 62}, {30, 74}}},
    {{{30, 24}, {28, 47}, {30, 65}, {30, 77}}},
    {{{30, 25}, {28, 49}, {30, 68}, {30, 81}}},
}};
// clang-format on

constexpr float kMostEvidence = 2.5;  // natural logarithm, of one module

// The symbol's order: the first data codeword of each block, the second of each, ..., then the checks alike.
void place_codewords(std::vector<Block>& blocks, const std::vector<int>& data) {
  int next = 0;
  for (int i = 0; i < data.back(); ++i) {
    for (std::size_t b = 0; b < blocks.size(); ++b) {
      if (i < data[b]) blocks[b].places.push_back(next++);
    }
  }
  for (int i = 0; i < blocks.front().checks; ++i) {
    for (auto& block : blocks) block.places.push_back(next++);
  }
}

void add_module(SoftCodeword& codeword, std::size_t bit, float one) {
  codeword.ones[bit] = one;
  if (one > 0) codeword.value = static_cast<std::uint8_t>(codeword.value | 0x80U >> bit);
  codeword.doubt *= 1 + std::exp(-std::abs(one));
  codeword.has_unknown_module = codeword.has_unknown_module || one == 0;
}

template <typename Places>
void write_word(core::SymbolGrid& grid, const std::array<Places, 2>& copies, std::uint32_t word) {
  for (const auto& copy : copies) {
    auto shift = copy.size();
    for (const auto& place : copy) {
      grid.modules[static_cast<std::size_t>(place.y * grid.form.side() + place.x)] = word >> --shift & 1U;
    }
  }
}

void write_codewords(core::SymbolGrid& grid, std::span<const std::uint8_t> codewords) {
  const auto& order = data_order(grid.form.version);
  const auto& turned = turned_modules(grid.form.version, grid.form.mask);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const bool bit = i / 8 < codewords.size() && (codewords[i / 8] >> (7 - i % 8) & 1U) != 0;
    grid.modules[static_cast<std::size_t>(order[i])] = bit != (turned[i] != 0) ? 1 : 0;
  }
}

}  // namespace

int codewords_of(int version) {
  return static_cast<int>(data_order(version).size() / 8);
}

std::vector<Block> blocks_of(int version, core::ErrorCorrection level) {
  const auto [checks, count] =
      kPartings[static_cast<std::size_t>(version - 1)][static_cast<std::size_t>(level)];
  const int codewords = codewords_of(version);
  std::vector<Block> blocks(static_cast<std::size_t>(count));
  std::vector<int> data(blocks.size(), codewords / count - checks);
  const int longer = codewords % count;  // the last ones
  std::for_each(data.end() - longer, data.end(), [](int& n) { ++n; });
  for (auto& block : blocks) block.checks = checks;
  place_codewords(blocks, data);
  return blocks;
}

std::vector<SoftCodeword> soft_codewords(const SoftGrid& grid, int mask) {
  const int version = version_of(grid.side).value();
  const auto& order = data_order(version);
  const auto& turned = turned_modules(version, mask);
  std::vector<SoftCodeword> codewords(static_cast<std::size_t>(codewords_of(version)));
  for (std::size_t i = 0; i < codewords.size() * 8; ++i) {
    const float dark = grid.dark[static_cast<std::size_t>(order[i])];
    add_module(codewords[i / 8], i % 8, turned[i] != 0 ? -dark : dark);
  }
  return codewords;
}

double evidence(const SoftCodeword& seen, std::uint8_t value) {
  double bits = 0;
  for (std::size_t i = 0; i < seen.ones.size(); ++i) {
    const float one = std::clamp(seen.ones[i], -kMostEvidence, kMostEvidence);
    const bool is_one = (value >> (7 - i) & 1U) != 0;
    bits += 1 - std::log2(1 + std::exp(is_one ? -one : one));
  }
  return bits;
}

std::vector<std::uint8_t> codewords_in(const core::SymbolGrid& symbol) {
  const auto& order = data_order(symbol.form.version);
  const auto& turned = turned_modules(symbol.form.version, symbol.form.mask);
  std::vector<std::uint8_t> codewords(static_cast<std::size_t>(codewords_of(symbol.form.version)));
  for (std::size_t i = 0; i < codewords.size() * 8; ++i) {
    const unsigned bit = symbol.modules[static_cast<std::size_t>(order[i])] ^ unsigned { turned[i] };
    codewords[i / 8] = static_cast<std::uint8_t>(unsigned{codewords[i / 8]} << 1 | bit);
  }
  return codewords;
}

core::SymbolGrid drawn(const core::SymbolForm& form, std::span<const std::uint8_t> codewords) {
  const auto& fixed = fixed_modules(form.version);
  core::SymbolGrid grid{form, std::vector<std::uint8_t>(fixed.kinds.size())};
  std::transform(fixed.kinds.begin(), fixed.kinds.end(), grid.modules.begin(),
                 [](ModuleKind kind) -> std::uint8_t { return kind == ModuleKind::Dark ? 1 : 0; });
  write_word(grid, format_places(form.version), format_word(form.level, form.mask));
  if (form.version >= kFirstVersionWithWord) {
    write_word(grid, version_places(form.version), version_word(form.version));
  }
  write_codewords(grid, codewords);
  return grid;
}

}  // namespace loadlight::vision
