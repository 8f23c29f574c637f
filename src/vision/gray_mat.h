// Between our grey pictures and OpenCV's matrices.
#pragma once

#include <opencv2/core.hpp>

#include "loadlight/port/picture.h"

namespace loadlight::vision {

// A matrix over the same pixels, which it does not own and must not write.
cv::Mat mat_over(port::GrayView view);

// A view of a CV_8UC1 matrix, valid as long as the matrix.
port::GrayView view_of(const cv::Mat& gray);

// Any matrix of 8 or 16 bits a channel and 1, 3 (BGR) or 4 channels (BGRA, laid on white) as grey levels.
// Throws what OpenCV throws.
port::GrayPicture gray_picture(const cv::Mat& mat);

}  // namespace loadlight::vision
