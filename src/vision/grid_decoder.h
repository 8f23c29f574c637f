// Decodes a sampled symbol, with what is not known of it as erasures.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/symbol.h"
#include "vision/soft_grid.h"

namespace loadlight::vision {

struct BlockDamage final {
  int codewords = 0;  // data and checks
  int checks = 0;
  int erased = 0;  // taken as unknown
  int wrong = 0;   // that error correction changed, erased ones included
};

struct DecodedGrid final {
  std::string text;       // UTF-8, not empty
  core::SymbolGrid grid;  // as it must have been printed
  std::vector<BlockDamage> blocks;
  std::vector<bool> wrong;  // of each codeword in the symbol's order (qr_blocks.h)
  double certainty = 0;     // bits, of the least certain block: by chance one in 2^certainty would pass
};

// Nothing unless format, blocks, text and end of text fit one another. At least two check codewords of each
// block stay in reserve, and as many more as it takes for each block to be right by more than chance: a block
// that is beyond repair passes as another less than once in a million (grid_decoder.cpp). A grid that has no
// version's size or holds anything but numbers is nothing, too. Thread-safe.
std::optional<DecodedGrid> decode_grid(const SoftGrid& grid);

}  // namespace loadlight::vision
