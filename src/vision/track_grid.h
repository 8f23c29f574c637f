// Grids of our own laid over the pictures kept of a label that a sweep follows.
#pragma once

#include <optional>

#include "loadlight/port/symbol_reader.h"
#include "vision/label_track.h"
#include "vision/seen_grid.h"

namespace loadlight::vision {

// Over its sharpest shot that was not tried yet, which counts as tried from now on; what that does not yield
// alone may be read together with the grids of shots tried before. Corners where the label is now. Throws
// what OpenCV throws.
std::optional<port::SymbolSighting> read_grid_of(LabelTrack& track, const GridBudget& budget);

}  // namespace loadlight::vision
