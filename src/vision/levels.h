// Grey levels between the middles of pixels.
#pragma once

#include <algorithm>
#include <opencv2/core.hpp>

namespace loadlight::vision {

// Of a CV_32FC1 picture of at least 2 x 2 pixels, bilinear; beyond its rim what the rim shows. (0, 0) is the
// outer corner of the first pixel.
inline double level_at(const cv::Mat& levels, double x, double y) {
  const double fx = std::clamp(x - 0.5, 0.0, levels.cols - 1.001);
  const double fy = std::clamp(y - 0.5, 0.0, levels.rows - 1.001);
  const int column = static_cast<int>(fx);
  const int row = static_cast<int>(fy);
  const double right = fx - column;
  const double below = fy - row;
  const float* upper = levels.ptr<float>(row) + column;
  const float* lower = levels.ptr<float>(row + 1) + column;
  return (upper[0] * (1 - right) + upper[1] * right) * (1 - below) +
         (lower[0] * (1 - right) + lower[1] * right) * below;
}

}  // namespace loadlight::vision
