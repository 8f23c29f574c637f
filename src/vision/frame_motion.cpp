#include "vision/frame_motion.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace loadlight::vision {
namespace {

// How much of the frame before must be found again where the shift says, as a correlation, and on what share
// of the frame: noise and blur leave more, another scene leaves less.
constexpr double kLeastLikeness = 0.75;
constexpr double kLeastOverlap = 0.25;
constexpr double kFlat = 2;  // grey levels: a picture that varies less shows no motion

struct Levels final {
  double mean = 0;
  double spread = 0;  // standard deviation
};

Levels levels_of(const cv::Mat& picture) {
  cv::Scalar mean;
  cv::Scalar deviation;
  cv::meanStdDev(picture, mean, deviation);
  return {mean[0], deviation[0]};
}

// The part of a picture that is still seen after the scene moved by `shift`; the same size either way.
cv::Rect overlap_of(cv::Size size, cv::Point shift) {
  const cv::Rect whole({}, size);
  return whole & (whole + shift);
}

// Correlation of both pictures where they show the same, -1 to 1; 0 where they share too little.
double likeness(const cv::Mat& before, const cv::Mat& now, cv::Point shift) {
  const cv::Rect here = overlap_of(now.size(), shift);
  if (here.area() < kLeastOverlap * static_cast<double>(now.total())) return 0;
  const cv::Mat one = now(here);
  const cv::Mat other = before(here - shift);
  const Levels a = levels_of(one);
  const Levels b = levels_of(other);
  if (a.spread < kFlat || b.spread < kFlat) return 0;
  return (one.dot(other) / here.area() - a.mean * b.mean) / (a.spread * b.spread);
}

// The longest length up to this one that the correlation does not pad to an odd one: in odd lengths it is
// half a pixel out.
int unbiased(int length) {
  while (length > 2 && cv::getOptimalDFTSize(length) % 2 != 0) --length;
  return length;
}

cv::Point rounded(cv::Point2d shift) {
  return {static_cast<int>(std::lround(shift.x)), static_cast<int>(std::lround(shift.y))};
}

}  // namespace

std::optional<cv::Point2d> FrameMotion::follow(const cv::Mat& reduced) {
  cv::Mat now;
  reduced(cv::Rect(0, 0, unbiased(reduced.cols), unbiased(reduced.rows))).convertTo(now, CV_32F);
  cv::Mat before = now;
  std::swap(before, before_);
  if (before.size() != now.size()) return std::nullopt;
  const bool was_flat = levels_of(before).spread < kFlat;
  const bool is_flat = levels_of(now).spread < kFlat;
  if (was_flat && is_flat) return cv::Point2d{};
  if (was_flat != is_flat) return std::nullopt;
  if (window_.size() != now.size()) cv::createHanningWindow(window_, now.size(), CV_32F);
  const cv::Point2d shift = cv::phaseCorrelate(before, now, window_);
  if (likeness(before, now, rounded(shift)) < kLeastLikeness) return std::nullopt;
  return shift * kReduction;
}

}  // namespace loadlight::vision
