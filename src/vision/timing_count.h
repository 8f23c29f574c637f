// How many modules a side has, counted along a timing pattern.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "vision/lattice_frame.h"

namespace loadlight::vision {

// From the finder at `first` along its right axis (`across`) or down axis to the one at `last`, both with
// their origin at their own top left and turned alike. `lane` is where the pattern runs: 6.5 modules from the
// symbol's edge. Sides of symbols that the counted modules tell, the most counted first; none if nothing
// alternates.
std::vector<int> timing_sides(const cv::Mat& levels, const LatticeFrame& first, const LatticeFrame& last,
                              bool across, double lane = 6.5);

}  // namespace loadlight::vision
