#include "vision/frame_parts.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace loadlight::vision {

cv::Mat halved(const cv::Mat& gray) {
  const cv::Size half(std::max(1, gray.cols / 2), std::max(1, gray.rows / 2));
  const cv::Rect even(0, 0, std::min(gray.cols, 2 * half.width), std::min(gray.rows, 2 * half.height));
  cv::Mat result;
  cv::resize(gray(even), result, half, 0, 0, cv::INTER_AREA);
  return result;
}

cv::Mat middle_of(const cv::Mat& frame) {
  return frame(
      cv::Rect(frame.cols / 3, frame.rows / 3, std::max(1, frame.cols / 3), std::max(1, frame.rows / 3)));
}

Tile leaving_strip(cv::Size frame, cv::Point2d shift) {
  if (std::abs(shift.x) > std::abs(shift.y)) {
    const int width = std::max(1, frame.width / 3);
    return {shift.x < 0 ? 0 : frame.width - width, 0, width, frame.height};
  }
  const int height = std::max(1, frame.height / 3);
  return {0, shift.y < 0 ? 0 : frame.height - height, frame.width, height};
}

}  // namespace loadlight::vision
