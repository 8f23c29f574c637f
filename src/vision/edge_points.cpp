#include "vision/edge_points.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace loadlight::vision {
namespace {

constexpr double kFaintest = 0.12;  // of a sharp edge; fainter ones are noise or paper

struct Slopes final {
  cv::Mat x;
  cv::Mat y;
  cv::Mat steepness;
};

Slopes slopes_of(const cv::Mat& levels, double sigma) {
  cv::Mat smooth;
  cv::GaussianBlur(levels, smooth, {}, sigma, sigma, cv::BORDER_REPLICATE);
  Slopes slopes;
  cv::Scharr(smooth, slopes.x, CV_32F, 1, 0, 1.0 / 32);
  cv::Scharr(smooth, slopes.y, CV_32F, 0, 1, 1.0 / 32);
  cv::magnitude(slopes.x, slopes.y, slopes.steepness);
  return slopes;
}

// What nine tenths of a coarse sample stay under.
float sharp_edge(const cv::Mat& steepness) {
  std::vector<float> sample;
  for (int y = 1; y < steepness.rows; y += 3) {
    for (int x = 1; x < steepness.cols; x += 3) sample.push_back(steepness.at<float>(y, x));
  }
  if (sample.empty()) return 0;
  const auto rank = sample.begin() + static_cast<std::ptrdiff_t>(sample.size() * 9 / 10);
  std::nth_element(sample.begin(), rank, sample.end());
  return *rank;
}

// The step to the neighbour that the slope points at most nearly.
cv::Point neighbour(float x, float y) {
  constexpr float kHalfDiagonal = 0.4142F;
  const float ax = std::abs(x);
  const float ay = std::abs(y);
  return {ax > kHalfDiagonal * ay ? (x > 0 ? 1 : -1) : 0, ay > kHalfDiagonal * ax ? (y > 0 ? 1 : -1) : 0};
}

}  // namespace

std::vector<EdgePoint> edge_points(const cv::Mat& levels, double sigma) {
  const Slopes slopes = slopes_of(levels, sigma);
  const float sharp = sharp_edge(slopes.steepness);
  const float least = std::max(0.05F, sharp * static_cast<float>(kFaintest));
  std::vector<EdgePoint> points;
  points.reserve(levels.total() / 4);
  for (int y = 1; y + 1 < levels.rows; ++y) {
    for (int x = 1; x + 1 < levels.cols; ++x) {
      const float here = slopes.steepness.at<float>(y, x);
      if (here < least) continue;
      const float sx = slopes.x.at<float>(y, x);
      const float sy = slopes.y.at<float>(y, x);
      const cv::Point step = neighbour(sx, sy);
      const float before = slopes.steepness.at<float>(y - step.y, x - step.x);
      const float after = slopes.steepness.at<float>(y + step.y, x + step.x);
      if (here < before || here <= after) continue;
      const double off = 0.5 * (after - before) / std::max(1e-6F, 2 * here - before - after);
      const double along = off * (static_cast<float>(step.x) * sx + static_cast<float>(step.y) * sy) /
                           here;  // onto the slope's own direction
      const port::PixelPoint towards{sx / here, sy / here};
      points.push_back({{x + 0.5 + along * towards.x, y + 0.5 + along * towards.y},
                        towards,
                        std::min(1.0F, here / std::max(1e-6F, sharp))});
    }
  }
  return points;
}

}  // namespace loadlight::vision
