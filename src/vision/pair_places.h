// From two finder patterns to where a symbol may lie whose third is hidden or blurred away.
#pragma once

#include <span>
#include <vector>

#include "vision/finder_spots.h"
#include "vision/quadrilateral.h"

namespace loadlight::vision {

// Of every pair of near finders that one symbol can have, the square on either side of them, and the one of
// which they are opposite corners, as far as `view` (sharpened) shows print in them; the fullest first. None
// that leaves the view. Of a crowd of finders, none.
std::vector<Quadrilateral> pair_places(std::span<const FinderSpot> spots, port::GrayView view);

}  // namespace loadlight::vision
