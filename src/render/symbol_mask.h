// The mask of a QR symbol (ISO/IEC 18004 clauses 7.8 and 7.9): taking one off, putting another on, and
// writing the format information that says which.
#pragma once

#include <cstdint>
#include <vector>

#include "loadlight/core/symbol.h"

namespace loadlight::render {

// Whether mask `mask` (0 to 7, both included) turns over the module in column x, row y.
bool mask_turns(int mask, int x, int y);

// The 15 bits of format information: level and mask, BCH(15,5), turned over by 0x5412.
std::uint32_t format_bits(core::ErrorCorrection level, int mask);

// The mask that the symbol's own format information names (the copy beside the top left finder).
int mask_written_in(const core::SymbolGrid& grid);

// Exchanges the mask for `mask`. `is_data[i]` tells the modules that masks turn over, as many as
// `grid.modules`.
void change_mask(core::SymbolGrid& grid, const std::vector<bool>& is_data, int mask);

}  // namespace loadlight::render
