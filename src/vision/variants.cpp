#include "vision/variants.h"

#include <algorithm>
#include <array>
#include <opencv2/imgproc.hpp>

namespace loadlight::vision {
namespace {

cv::Mat doubled(const cv::Mat& gray) {
  cv::Mat result;
  cv::resize(gray, result, {}, 2, 2, cv::INTER_CUBIC);
  return result;
}

// Unsharp mask over the doubled view: undoes a defocus of about a pixel.
cv::Mat sharpened(const cv::Mat& gray) {
  const cv::Mat large = doubled(gray);
  cv::Mat blurred;
  cv::GaussianBlur(large, blurred, {}, 3.0);
  cv::Mat result;
  cv::addWeighted(large, 2.5, blurred, -1.5, 0, result);
  return result;
}

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

// For grain: the noise of a dark picture averages out before the edges do.
cv::Mat smoothed(const cv::Mat& gray) {
  cv::Mat result;
  cv::GaussianBlur(gray, result, {}, 1.2);
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

std::span<const Variant> variants() {
  return kVariants;
}

}  // namespace loadlight::vision
