// A cheap look at whether a place can hold a symbol at all, before anything costly is tried on it.
#pragma once

#include "vision/quadrilateral.h"

namespace loadlight::vision {

// Changes between dark and light along a line through the place, the mean over lines both ways: 9 and more in
// a symbol of version 1 (about every other module), few in most clutter. Pixels count as dark under the mean
// of the line.
double changes_across(port::GrayView view, const Quadrilateral& place);

// Under which nothing costly is tried: less than a symbol of version 1 has.
inline constexpr double kLeastChanges = 8;

}  // namespace loadlight::vision
