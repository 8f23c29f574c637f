#include "vision/frame_motion.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <opencv2/imgproc.hpp>
#include <utility>

namespace loadlight::vision {
namespace {

// How much of the frame before must be found again where the shift says, as a correlation, and on what share
// of the frame: noise and blur leave more, another scene leaves less.
constexpr double kLeastLikeness = 0.75;
constexpr double kLeastOverlap = 0.25;
constexpr int kLeastSide = 8;         // pixels shared, each way, of which slopes tell anything
constexpr double kLeastSlope = 1e-3;  // less both ways together than each alone: one edge tells one way only
constexpr double kMostRest = 1;       // pixel
constexpr double kFlat = 2;           // grey levels: a picture that varies less shows no motion

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

// Half the size, and no longer than the correlation likes.
cv::Mat small_picture(const cv::Mat& reduced) {
  const cv::Size half(unbiased(std::max(1, reduced.cols / 2)), unbiased(std::max(1, reduced.rows / 2)));
  const cv::Rect part({}, cv::Size(2 * half.width, 2 * half.height));
  cv::Mat small;
  cv::resize(reduced(part & cv::Rect({}, reduced.size())), small, half, 0, 0, cv::INTER_AREA);
  small.convertTo(small, CV_32F);
  return small;
}

// Slopes tell of a shift only where the picture bends little from pixel to pixel.
cv::Mat smoothed(const cv::Mat& reduced) {
  cv::Mat smooth;
  cv::GaussianBlur(reduced, smooth, {5, 5}, 1.2);
  return smooth;
}

// Sums over two pictures of one size, from which follows how far the second is moved against the first.
struct Slopes final {
  std::int64_t xx = 0;
  std::int64_t xy = 0;
  std::int64_t yy = 0;
  std::int64_t x_off = 0;
  std::int64_t y_off = 0;

  void add_row(const cv::Mat& before, const cv::Mat& now, int y) {
    const auto* here = now.ptr<std::uint8_t>(y);
    const auto* above = now.ptr<std::uint8_t>(y - 1);
    const auto* below = now.ptr<std::uint8_t>(y + 1);
    const auto* was_here = before.ptr<std::uint8_t>(y);
    const auto* was_above = before.ptr<std::uint8_t>(y - 1);
    const auto* was_below = before.ptr<std::uint8_t>(y + 1);
    std::array<int, 5> row{};
    for (int x = 1; x + 1 < now.cols; ++x) {
      const int along = here[x + 1] - here[x - 1] + was_here[x + 1] - was_here[x - 1];
      const int down = below[x] - above[x] + was_below[x] - was_above[x];
      const int off = here[x] - was_here[x];
      row[0] += along * along;
      row[1] += along * down;
      row[2] += down * down;
      row[3] += along * off;
      row[4] += down * off;
    }
    xx += row[0];
    xy += row[1];
    yy += row[2];
    x_off += row[3];
    y_off += row[4];
  }
};

// What whole pixels leave of the shift: where levels differ by as much as the slope makes them. The slopes
// are the sum of both pictures' over two pixels, four times what they are a pixel.
cv::Point2d rest_of(const cv::Mat& before, const cv::Mat& now, cv::Point whole) {
  const cv::Rect here = overlap_of(now.size(), whole);
  if (std::min(here.width, here.height) < kLeastSide) return {};
  const cv::Mat one = before(here - whole);
  const cv::Mat other = now(here);
  Slopes slopes;
  for (int y = 1; y + 1 < here.height; y += 2) slopes.add_row(one, other, y);
  const auto xx = static_cast<double>(slopes.xx);
  const auto xy = static_cast<double>(slopes.xy);
  const auto yy = static_cast<double>(slopes.yy);
  const auto x = static_cast<double>(slopes.x_off);
  const auto y = static_cast<double>(slopes.y_off);
  const double area = xx * yy - xy * xy;
  if (area < kLeastSlope * xx * yy || area <= 0) return {};
  const auto within = [](double rest) { return std::clamp(rest, -kMostRest, kMostRest); };
  return {within(-4 * (yy * x - xy * y) / area), within(-4 * (xx * y - xy * x) / area)};
}

// The shift to a fraction of a pixel: whole pixels first, what they leave then, once more if that is much.
cv::Point2d refined(const cv::Mat& before, const cv::Mat& now, cv::Point2d shift) {
  for (int turn = 0; turn < 3; ++turn) {
    const cv::Point whole = rounded(shift);
    shift = cv::Point2d(whole) + rest_of(before, now, whole);
    if (rounded(shift) == whole) break;
  }
  return shift;
}

}  // namespace

std::optional<cv::Point2d> FrameMotion::follow(const cv::Mat& reduced) {
  Picture now{reduced.clone(), smoothed(reduced), small_picture(reduced)};
  const Picture before = std::exchange(before_, now);
  if (before.reduced.size() != reduced.size()) return std::nullopt;
  const bool was_flat = levels_of(before.small).spread < kFlat;
  const bool is_flat = levels_of(now.small).spread < kFlat;
  if (was_flat && is_flat) return cv::Point2d{};
  if (was_flat != is_flat) return std::nullopt;
  if (window_.size() != now.small.size()) cv::createHanningWindow(window_, now.small.size(), CV_32F);
  const cv::Point2d coarse = cv::phaseCorrelate(before.small, now.small, window_);
  const cv::Point2d shift = refined(before.smooth, now.smooth, coarse * 2);
  if (likeness(before.reduced, now.reduced, rounded(shift)) < kLeastLikeness) return std::nullopt;
  return shift * kReduction;
}

}  // namespace loadlight::vision
