// Where a symbol may lie, told by finder patterns: three of them, or two when light or tape hides one.
#pragma once

#include <opencv2/core.hpp>
#include <span>
#include <vector>

#include "vision/finder_marks.h"
#include "vision/grid_fit.h"

namespace loadlight::vision {

// Module coordinates run along the symbol's sides, from any of its corners: which is the symbol's own top
// left is told later, by what the modules show.
struct AnchorSet final {
  int side = 0;  // modules: 21 to 177
  std::vector<LatticePoint> known;
  int finders = 0;     // 1 to 3
  double oddness = 0;  // 0 for finders that fit each other perfectly
};

// The likeliest first, at most `most`.
std::vector<AnchorSet> likely_anchors(const cv::Mat& levels, std::span<const FinderMark> marks,
                                      std::size_t most);

}  // namespace loadlight::vision
