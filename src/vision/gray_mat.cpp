#include "vision/gray_mat.h"

#include <opencv2/imgproc.hpp>

namespace loadlight::vision {
namespace {

cv::Mat eight_bit(const cv::Mat& mat) {
  if (mat.depth() != CV_16U) return mat;
  cv::Mat narrowed;
  mat.convertTo(narrowed, CV_8U, 1.0 / 257);
  return narrowed;
}

// Row by row, so that a big picture needs no second copy of itself.
cv::Mat on_white(const cv::Mat& bgra) {
  cv::Mat gray(bgra.size(), CV_8UC1);
  for (int y = 0; y < bgra.rows; ++y) {
    for (int x = 0; x < bgra.cols; ++x) {
      const auto& pixel = bgra.at<cv::Vec4b>(y, x);
      const double level = 0.114 * pixel[0] + 0.587 * pixel[1] + 0.299 * pixel[2];  // ITU-R BT.601 weights
      const double cover = pixel[3] / 255.0;
      gray.at<std::uint8_t>(y, x) = cv::saturate_cast<std::uint8_t>(level * cover + 255 * (1 - cover));
    }
  }
  return gray;
}

cv::Mat one_channel(const cv::Mat& mat) {
  if (mat.channels() == 1) return mat;
  if (mat.channels() == 4) return on_white(mat);
  cv::Mat gray;
  cv::cvtColor(mat, gray, cv::COLOR_BGR2GRAY);
  return gray;
}

}  // namespace

cv::Mat mat_over(port::GrayView view) {
  return {view.height, view.width, CV_8UC1, const_cast<std::uint8_t*>(view.pixels),
          static_cast<std::size_t>(view.stride)};
}

port::GrayView view_of(const cv::Mat& gray) {
  return {gray.data, gray.cols, gray.rows, static_cast<int>(gray.step)};
}

port::GrayPicture gray_picture(const cv::Mat& mat) {
  const cv::Mat gray = one_channel(eight_bit(mat));
  port::GrayPicture picture{gray.cols, gray.rows, std::vector<std::uint8_t>(gray.total())};
  gray.copyTo(cv::Mat(gray.rows, gray.cols, CV_8UC1, picture.pixels.data()));
  return picture;
}

}  // namespace loadlight::vision
