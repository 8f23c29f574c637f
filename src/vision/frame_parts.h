// The parts and reductions of a frame that a sweep looks at.
#pragma once

#include <opencv2/core.hpp>

#include "vision/tiles.h"

namespace loadlight::vision {

// Each pixel is the mean of four; a last odd row or column is left out. Throws what OpenCV throws.
cv::Mat halved(const cv::Mat& gray);

// Enough of a frame to tell how it smears.
cv::Mat middle_of(const cv::Mat& frame);

// A third of the frame, at the side over which the scene leaves when it moves by `shift` a frame.
Tile leaving_strip(cv::Size frame, cv::Point2d shift);

}  // namespace loadlight::vision
