// From finder patterns to where whole symbols may lie.
#pragma once

#include <span>
#include <vector>

#include "vision/finder_spots.h"
#include "vision/quadrilateral.h"

namespace loadlight::vision {

// Three spots that can be the corners of one symbol, as its outline; the likeliest first, at most `most`.
std::vector<Quadrilateral> likely_places(std::span<const FinderSpot> spots, std::size_t most);

}  // namespace loadlight::vision
