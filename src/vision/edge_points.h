// Where a picture's grey levels change most sharply.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "loadlight/port/picture.h"

namespace loadlight::vision {

struct EdgePoint final {
  port::PixelPoint at;       // to a fraction of a pixel
  port::PixelPoint towards;  // unit length, from dark to light
  double weight = 0;         // 0 to 1; 1 for an edge as sharp as the sharper ones of its picture
};

// Of a CV_32FC1 picture, smoothed by a Gaussian of `sigma` pixels before. Throws what OpenCV throws.
std::vector<EdgePoint> edge_points(const cv::Mat& levels, double sigma);

}  // namespace loadlight::vision
