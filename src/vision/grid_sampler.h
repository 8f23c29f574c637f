// What a picture shows in each module of a laid grid.
#pragma once

#include <opencv2/core.hpp>

#include "vision/grid_map.h"
#include "vision/soft_grid.h"

namespace loadlight::vision {

// From a CV_32FC1 picture. Black and white are what is dark and light nearby; what neighbours shed into a
// module by blur is taken off again; blown-out and covered modules are 0.
SoftGrid sample_grid(const cv::Mat& levels, const GridMap& map);

// The same grid read from another corner, as GridMap::turned has it.
SoftGrid turned(const SoftGrid& grid, int quarters);

}  // namespace loadlight::vision
