#include "vision/lens.h"

#include <cmath>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace loadlight::vision_tests {

void tint_half(cv::Mat& scene, cv::Point2d middle, double strength, cv::RNG& rng) {
  if (strength <= 0) return;
  const double angle = rng.uniform(0.0, 2 * CV_PI);
  const cv::Point2d normal(std::cos(angle), std::sin(angle));
  const cv::Vec3d kept(1 - strength * rng.uniform(0.3, 1.0), 1 - strength * rng.uniform(0.3, 1.0),
                       1 - strength * rng.uniform(0.3, 1.0));
  for (int y = 0; y < scene.rows; ++y) {
    auto* row = scene.ptr<cv::Vec3f>(y);
    for (int x = 0; x < scene.cols; ++x) {
      const double beyond = (x + 0.5 - middle.x) * normal.x + (y + 0.5 - middle.y) * normal.y;
      const double share = std::clamp(beyond + 0.5, 0.0, 1.0);
      for (int c = 0; c < 3; ++c) row[x][c] *= static_cast<float>(1 - share * (1 - kept[c]));
    }
  }
}

void blow_out(cv::Mat& scene, cv::Point2d at, double width, double softness, cv::RNG& rng) {
  const double angle = rng.uniform(0.0, CV_PI);
  if (width <= 0) return;
  const cv::Point2d normal(std::cos(angle), std::sin(angle));
  for (int y = 0; y < scene.rows; ++y) {
    auto* row = scene.ptr<cv::Vec3f>(y);
    for (int x = 0; x < scene.cols; ++x) {
      const double off = (x + 0.5 - at.x) * normal.x + (y + 0.5 - at.y) * normal.y;
      if (std::abs(off) > width / 2 + 4 * softness) continue;
      // A sharp band under a Gaussian: one that is thinner than its edges never quite saturates.
      const double scale = 1 / (std::sqrt(2.0) * softness);
      const auto share =
          static_cast<float>((std::erf((width / 2 - off) * scale) + std::erf((width / 2 + off) * scale)) / 2);
      row[x] += (cv::Vec3f::all(255) - row[x]) * share;
    }
  }
}

void defocus(cv::Mat& scene, double sigma) {
  if (sigma > 0.05) cv::GaussianBlur(scene, scene, {}, sigma);
}

void move_blur(cv::Mat& scene, cv::Vec2d way) {
  const double length = cv::norm(way);
  if (length < 0.1) return;
  const int half = static_cast<int>(std::ceil(length / 2)) + 1;
  cv::Mat kernel(2 * half + 1, 2 * half + 1, CV_32F, cv::Scalar(0));
  const int steps = 8 * static_cast<int>(std::ceil(length)) + 1;
  for (int i = 0; i < steps; ++i) {
    const double share = (i + 0.5) / steps - 0.5;
    const double x = half + share * way[0];
    const double y = half + share * way[1];
    const int left = static_cast<int>(x);
    const int top = static_cast<int>(y);
    const auto fx = static_cast<float>(x - left);
    const auto fy = static_cast<float>(y - top);
    kernel.at<float>(top, left) += (1 - fx) * (1 - fy);
    kernel.at<float>(top, left + 1) += fx * (1 - fy);
    kernel.at<float>(top + 1, left) += (1 - fx) * fy;
    kernel.at<float>(top + 1, left + 1) += fx * fy;
  }
  cv::filter2D(scene, scene, -1, kernel / cv::sum(kernel)[0], {-1, -1}, 0, cv::BORDER_REPLICATE);
}

cv::Mat exposed(const cv::Mat& scene, double sigma, int jpeg, cv::RNG& rng) {
  cv::Mat grain(scene.size(), CV_32FC3);
  rng.fill(grain, cv::RNG::NORMAL, 0, std::max(0.01, sigma));
  grain += scene;
  cv::Mat seen;
  grain.convertTo(seen, CV_8U);
  std::vector<std::uint8_t> bytes;
  cv::imencode(".jpg", seen, bytes, {cv::IMWRITE_JPEG_QUALITY, jpeg});
  return cv::imdecode(bytes, cv::IMREAD_COLOR);
}

}  // namespace loadlight::vision_tests
