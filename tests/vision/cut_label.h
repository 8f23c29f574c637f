// A modelled label cut from its frame as a reader of single places gets it.
#pragma once

#include <algorithm>
#include <opencv2/imgproc.hpp>

#include "vision/finder_spots.h"
#include "vision/modelled_label.h"

namespace loadlight::vision_tests {

struct CutLabel final {
  ModelledLabel label;
  cv::Rect place;  // of the frame
  cv::Mat gray;

  port::GrayView view() const { return {gray.data, gray.cols, gray.rows, static_cast<int>(gray.step)}; }
  std::vector<vision::FinderSpot> spots() const { return vision::find_finder_spots(view()); }

  // In pixels of the cut.
  port::Corners corners() const {
    port::Corners corners = label.truth.corners;
    for (auto& corner : corners) corner = {corner.x - place.x, corner.y - place.y};
    return corners;
  }
};

// With six modules around the symbol.
inline CutLabel cut_label(const LabelHarms& harms, std::uint64_t seed) {
  cv::RNG rng(seed);
  CutLabel cut{modelled_label(harms, rng), {}, {}};
  std::vector<cv::Point2f> nodes;
  for (const auto& node : cut.label.truth.nodes) {
    nodes.emplace_back(static_cast<float>(node.x), static_cast<float>(node.y));
  }
  cut.place = cv::boundingRect(nodes);
  const int around = static_cast<int>(6 * harms.module);
  cut.place -= cv::Point(around, around);
  cut.place += cv::Size(2 * around, 2 * around);
  cut.place &= cv::Rect({}, cut.label.gray.size());
  cut.gray = cut.label.gray(cut.place).clone();
  return cut;
}

}  // namespace loadlight::vision_tests
