// Reads a symbol that is too bent, blurred, covered or blown out for a reader of flat ones: its lattice is
// laid over the picture first, then its modules are sampled, then decoded.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "vision/finder_spots.h"
#include "vision/grid_decoder.h"
#include "vision/seen_grid.h"

namespace loadlight::vision {

struct GridReading final {
  DecodedGrid decoded;
  GridMap map;  // in pixels of the view
  SoftGrid seen;
};

// `view` is a cut around one place, with some of what surrounds it; `spots` are finder patterns seen in it,
// if any are known. Nothing if nothing can be decoded. Throws what OpenCV throws. Thread-safe, as all here.
std::optional<GridReading> read_grid(port::GrayView view, std::span<const FinderSpot> spots,
                                     const GridBudget& budget);

// The best few grids, the likeliest first, whether they can be decoded or not.
std::vector<SeenGrid> lay_grids(port::GrayView view, std::span<const FinderSpot> spots,
                                const GridBudget& budget);

// The same where a symbol is known to lie (by another frame, say): its corners to about a module, in any
// order round it, and its side (modules) if known.
std::vector<SeenGrid> lay_grids_at(port::GrayView view, const port::Corners& corners, std::optional<int> side,
                                   const GridBudget& budget);

}  // namespace loadlight::vision
