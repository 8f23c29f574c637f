// Other renderings of one view, for a reader that could not make out the view itself.
#pragma once

#include <opencv2/core.hpp>
#include <span>
#include <string_view>

namespace loadlight::vision {

// A rendering whose sides are `scale` times those of the view it is made from.
struct Variant final {
  std::string_view name;
  double scale;
  cv::Mat (*render)(const cv::Mat& gray);
};

// In the order in which they are worth trying: what helps most often for its cost comes first.
std::span<const Variant> variants();

}  // namespace loadlight::vision
