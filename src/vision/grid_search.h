// All grids that may lie in one view, tried one after the other.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <span>
#include <vector>

#include "vision/edge_points.h"
#include "vision/finder_marks.h"
#include "vision/finder_spots.h"
#include "vision/seen_grid.h"
#include "vision/symbol_anchors.h"

namespace loadlight::vision {

class GridSearch final {
 public:
  GridSearch(port::GrayView view, std::span<const FinderSpot> spots, const GridBudget& budget);

  // The same where a symbol is known to lie: its corners to about a module, its side (modules) if known.
  GridSearch(port::GrayView view, const port::Corners& corners, std::optional<int> side,
             const GridBudget& budget);

  // The next grid that is worth a look; nothing when there is no more to try.
  std::optional<SeenGrid> next();

  const std::vector<FinderMark>& marks() const { return marks_; }  // in pixels of the enlarged view
  double scale() const { return scale_; }

 private:
  void prepare(port::GrayView view, double module, std::span<const FinderSpot> spots);
  std::optional<SeenGrid> lay(const AnchorSet& anchors) const;

  double scale_ = 1;  // of the view's sides, so that a module measures a few pixels
  cv::Mat levels_;    // CV_32FC1
  std::vector<EdgePoint> edges_;
  std::vector<FinderMark> marks_;
  std::vector<AnchorSet> anchors_;
  std::size_t tried_ = 0;
  int left_;
  Deadline deadline_;
};

}  // namespace loadlight::vision
