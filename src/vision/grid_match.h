// Tells which of some known symbols a sampled one is, though it cannot be decoded.
#pragma once

#include <cstddef>
#include <optional>
#include <span>

#include "loadlight/core/symbol.h"
#include "vision/soft_grid.h"

namespace loadlight::vision {

// Base-10 logarithms of likelihood ratios of the best candidate.
struct GridLikelihood final {
  std::size_t candidate = 0;  // index
  double over_second = 0;     // against the best of the others; infinite if there is none
  // Against a symbol of the same form that agrees with it in every block but the one in which it is told
  // worst, and in the data of that one as well.
  double over_chance = 0;
};

// Nothing if the grid is unsound or none of the candidates has its size. Thread-safe.
std::optional<GridLikelihood> match_grid(const SoftGrid& seen, std::span<const core::SymbolGrid> candidates);

}  // namespace loadlight::vision
