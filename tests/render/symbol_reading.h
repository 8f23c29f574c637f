// A second, plain reading of QR symbols from their modules (ISO/IEC 18004), independent of what draws
// them: versions 1 to 10.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "loadlight/core/symbol.h"

namespace loadlight::tests {

using Codewords = std::vector<std::uint8_t>;

inline constexpr core::ErrorCorrection kLevels[] = {core::ErrorCorrection::L, core::ErrorCorrection::M,
                                                    core::ErrorCorrection::Q, core::ErrorCorrection::H};

// ISO/IEC 18004 table C.1: the format word of a level and a mask.
std::uint32_t format_word(core::ErrorCorrection level, int mask);
// ISO/IEC 18004 table 7: alphanumeric characters that versions 1 to 10 hold.
int published_capacity(int version, core::ErrorCorrection level);
// `length` characters that run through the whole alphanumeric set.
std::string alphanumeric_sample(int length);

// The grid drawn as text, a row a line, "#" dark.
core::SymbolGrid grid_from_picture(const std::string& picture, core::SymbolForm form);

// The two copies of the 15 bits of format information.
std::uint32_t first_format_word(const core::SymbolGrid& grid);
std::uint32_t second_format_word(const core::SymbolGrid& grid);

// The mask that the format information names at the grid's level; throws std::runtime_error if none.
int mask_of(const core::SymbolGrid& grid);

// The modules that carry data, row by row, with their mask taken off; what a mask never touches is 2.
std::vector<std::uint8_t> unmasked_data(const core::SymbolGrid& grid, int mask);
// Finder, timing, alignment and version modules and the dark one, row by row; everything else is 2.
std::vector<std::uint8_t> fixed_patterns(const core::SymbolGrid& grid);

// All codewords in the order in which they are placed.
Codewords codewords_of(const core::SymbolGrid& grid, int mask);

// A block of a symbol, its error correction separate.
struct Block final {
  Codewords data;
  Codewords correction;
};
std::vector<Block> blocks_of(const Codewords& placed, int version, core::ErrorCorrection level);
int data_codewords(int version, core::ErrorCorrection level);

// Reed-Solomon error correction codewords of a block, `count` of them (GF(256), 0x11D).
Codewords correction_of(const Codewords& data, std::size_t count);

// The text of one alphanumeric segment followed by terminator and pad codewords; throws
// std::runtime_error where the bits are anything else.
std::string alphanumeric_text(const std::vector<Block>& blocks, int version);

}  // namespace loadlight::tests
