#include "vision/variants.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <opencv2/imgproc.hpp>

#include "vision/finder_spots.h"

namespace loadlight::vision {

cv::Mat smoothed(const cv::Mat& gray) {
  cv::Mat result;
  cv::GaussianBlur(gray, result, {}, 1.2);
  return result;
}

namespace {

cv::Mat doubled(const cv::Mat& gray) {
  cv::Mat result;
  cv::resize(gray, result, {}, 2, 2, cv::INTER_CUBIC);
  return result;
}

}  // namespace

cv::Mat unsharp(const cv::Mat& gray) {
  cv::Mat blurred;
  cv::GaussianBlur(gray, blurred, {}, 1.5);
  cv::Mat result;
  cv::addWeighted(gray, 2.5, blurred, -1.5, 0, result);
  return result;
}

cv::Mat much_sharpened(const cv::Mat& gray) {
  cv::Mat blurred;
  cv::GaussianBlur(gray, blurred, {}, 2.0);
  cv::Mat sharp;
  cv::addWeighted(gray, 4, blurred, -3, 0, sharp);
  cv::Mat result;
  cv::resize(sharp, result, {}, 2, 2, cv::INTER_LINEAR);
  return result;
}

cv::Mat sharpened(const cv::Mat& gray) {
  return doubled(unsharp(gray));
}

namespace {

// Local contrast, for shade and for pale print.
cv::Mat equalised(const cv::Mat& gray) {
  cv::Mat result;
  cv::createCLAHE(3.0, {8, 8})->apply(gray, result);
  return doubled(result);
}

// Every pixel against its surroundings, for lettering on a pattern and for gloss.
cv::Mat thresholded(const cv::Mat& gray) {
  const cv::Mat large = doubled(gray);
  const int window = std::max(15, std::min(large.cols, large.rows) / 8) | 1;
  cv::Mat smooth;
  cv::GaussianBlur(large, smooth, {}, 1.0);
  cv::Mat result;
  cv::adaptiveThreshold(smooth, result, 255, cv::ADAPTIVE_THRESH_MEAN_C, cv::THRESH_BINARY, window, 4);
  return result;
}

// For large symbols with dirt, gaps or print dots smaller than a module.
cv::Mat halved(const cv::Mat& gray) {
  cv::Mat result;
  cv::resize(gray, result, {std::max(1, gray.cols / 2), std::max(1, gray.rows / 2)}, 0, 0, cv::INTER_AREA);
  return result;
}

// Light modules on a dark ground.
cv::Mat inverted(const cv::Mat& gray) {
  return 255 - gray;
}

// All grey levels there are, but for the few darkest and lightest, spread from black to white.
cv::Mat stretched(const cv::Mat& gray) {
  constexpr double kLeftOut = 0.01;  // share of the pixels at either end
  constexpr int kEveryRow = 4;
  cv::Mat smooth;
  cv::GaussianBlur(gray, smooth, {}, 0.8);
  std::array<int, 256> counts{};
  int looked_at = 0;
  for (int y = 0; y < smooth.rows; y += kEveryRow, looked_at += smooth.cols) {
    const auto* row = smooth.ptr<std::uint8_t>(y);
    for (int x = 0; x < smooth.cols; ++x) ++counts[row[x]];
  }
  const int left_out = static_cast<int>(kLeftOut * looked_at);
  std::size_t darkest = 0;
  std::size_t lightest = 255;
  for (int sum = counts[darkest]; sum <= left_out && darkest < 255; sum += counts[darkest]) ++darkest;
  for (int sum = counts[lightest]; sum <= left_out && lightest > 0; sum += counts[lightest]) --lightest;
  const double spread = 255.0 / std::max(1.0, static_cast<double>(lightest) - static_cast<double>(darkest));
  cv::Mat result;
  smooth.convertTo(result, CV_8U, spread, -spread * static_cast<double>(darkest));
  return result;
}

constexpr std::array<Rendering, 3> kRenderings{{
    {"stretched", 1.0, &stretched, kPalelyDarker},
    {"sharpened", 2.0, &sharpened, kDarker},
    {"smoothed", 1.0, &smoothed, kMuchDarker},
}};

constexpr std::array<Variant, 7> kVariants{{
    {"smoothed", 1.0, &smoothed},
    {"doubled", 2.0, &doubled},
    {"sharpened", 2.0, &sharpened},
    {"thresholded", 2.0, &thresholded},
    {"equalised", 2.0, &equalised},
    {"halved", 0.5, &halved},
    {"inverted", 1.0, &inverted},
}};

}  // namespace

cv::Mat tripled(const cv::Mat& gray) {
  cv::Mat blurred;
  cv::GaussianBlur(gray, blurred, {}, 0.8);
  cv::Mat sharp;
  cv::addWeighted(gray, 2.5, blurred, -1.5, 0, sharp);
  cv::Mat result;
  cv::resize(sharp, result, {}, 3, 3, cv::INTER_CUBIC);
  return result;
}

bool is_noisy(const cv::Mat& gray) {
  constexpr int kDiffer = 20;  // grey levels: noise of a sigma of about 20
  constexpr int kEveryRow = 8;
  long differ = 0;
  long looked_at = 0;
  for (int y = 0; y < gray.rows; y += kEveryRow) {
    const auto* row = gray.ptr<std::uint8_t>(y);
    for (int x = 1; x < gray.cols; ++x) differ += std::abs(row[x] - row[x - 1]) > kDiffer;
    looked_at += gray.cols - 1;
  }
  return differ * 2 > looked_at;
}

bool is_pale(const cv::Mat& gray) {
  constexpr int kClose = 50;           // grey levels
  constexpr double kLeftOut = 0.02;    // share of the pixels at either end
  constexpr int kEveryRow = 8;
  std::array<int, 256> counts{};
  int looked_at = 0;
  for (int y = 0; y < gray.rows; y += kEveryRow, looked_at += gray.cols) {
    const auto* row = gray.ptr<std::uint8_t>(y);
    for (int x = 0; x < gray.cols; ++x) ++counts[row[x]];
  }
  const int left_out = static_cast<int>(kLeftOut * looked_at);
  int darkest = 0;
  int lightest = 255;
  for (int sum = 0; darkest < 255; ++darkest) {
    if ((sum += counts[static_cast<std::size_t>(darkest)]) > left_out) break;
  }
  for (int sum = 0; lightest > darkest; --lightest) {
    if ((sum += counts[static_cast<std::size_t>(lightest)]) > left_out) break;
  }
  return lightest - darkest < kClose;
}

std::span<const Variant> variants() {
  return kVariants;
}

std::vector<Rendering> renderings_for_finders(const cv::Mat& gray) {
  std::vector<Rendering> order(kRenderings.begin(), kRenderings.end());
  if (is_noisy(gray)) std::rotate(order.begin(), order.end() - 1, order.end());
  return order;
}

}  // namespace loadlight::vision
