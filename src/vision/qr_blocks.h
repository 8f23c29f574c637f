// How the codewords of a symbol are parted into blocks, and what the modules say of each codeword.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "loadlight/core/symbol.h"
#include "vision/soft_grid.h"

namespace loadlight::vision {

int codewords_of(int version);  // data and check codewords together

struct Block final {
  int checks = 0;
  std::vector<int> places;  // of its codewords, data first, in the symbol's order: 0 to codewords - 1

  int data() const { return static_cast<int>(places.size()) - checks; }
};

// In the order in which their data follow one another.
std::vector<Block> blocks_of(int version, core::ErrorCorrection level);

// A codeword as its eight modules show it.
struct SoftCodeword final {
  std::uint8_t value = 0;       // the likelier one of each bit; 0 where nothing is known
  std::array<float, 8> ones{};  // likelihoods as in SoftGrid, of 1 rather than 0, most significant bit first
  float doubt = 1;              // the inverse of the chance that the value is right, 1 to 256
  bool has_unknown_module = false;
};

// Of every codeword in the symbol's order, once `mask` (0 to 7) is taken off. The grid is one of a version.
std::vector<SoftCodeword> soft_codewords(const SoftGrid& grid, int mask);

// How much likelier what is seen is if the codeword has this value than if its bits are random, in bits
// (powers of two). Modules of a codeword that is covered are wrong however sure they seem, so none counts for
// more than a likelihood ratio of e^2.5. The mean of 2^evidence over all values is 1, whatever is seen.
double evidence(const SoftCodeword& seen, std::uint8_t value);

// The codewords that a symbol's modules are, in the symbol's order.
std::vector<std::uint8_t> codewords_in(const core::SymbolGrid& symbol);

// The whole symbol of these codewords, in the symbol's order, with patterns, format and version.
core::SymbolGrid drawn(const core::SymbolForm& form, std::span<const std::uint8_t> codewords);

}  // namespace loadlight::vision
