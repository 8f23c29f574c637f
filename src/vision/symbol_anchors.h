// Where a symbol may lie, told by finder patterns: three of them, or two when light or tape hides one.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
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

// Where a symbol is known to lie: of the sets found by finders those that fit, then the corners themselves, a
// little moved each way. All sides of small symbols are tried if the side is not known.
std::vector<AnchorSet> anchors_in(const port::Corners& corners, std::optional<int> side,
                                  std::span<const AnchorSet> by_finders);

}  // namespace loadlight::vision
