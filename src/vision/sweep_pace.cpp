#include "vision/sweep_pace.h"

#include <cmath>

namespace loadlight::vision {
namespace {

// Shares of the frame's longer side.
constexpr double kStep = 0.04;
constexpr double kLongStep = 0.12;
constexpr double kInView = 0.65;  // moved so far, what leaves was in view before
constexpr int kMostFramesBetween = 12;
constexpr int kSearchesAtRest = 3;  // of a scene that stands still; more would show nothing new
constexpr double kAtRest = 2;       // pixels moved between two searches
constexpr double kCalm = 0.85;      // of the usual pace
constexpr double kNearlyStill = 0.35;
constexpr double kSlow = 1.0 / 200;  // of the longer side, a frame
constexpr double kMemory = 0.9;

}  // namespace

void SweepPace::moved(cv::Point2d shift, int longer_side) {
  ++frame_;
  before_ = std::hypot(shift_.x, shift_.y);
  shift_ = shift;
  longer_side_ = longer_side;
  const double length = std::hypot(shift.x, shift.y);
  since_ += length;
  since_clear_ += length;
  since_last_ += length;
  usual_ = kMemory * usual_ + (1 - kMemory) * length;
}

void SweepPace::begin_anew() {
  ++frame_;
  shift_ = {};
  since_ = 0;
  since_clear_ = kNever;
  since_last_ = kNever;
  at_rest_ = 0;
  is_new_ = true;
}

bool SweepPace::is_nearly_still() const {
  return std::hypot(shift_.x, shift_.y) <= kNearlyStill * usual_ + 0.5;
}

bool SweepPace::is_slow() const {
  return usual_ < kSlow * longer_side_;
}

// Slower than usual, and no longer slowing down.
bool SweepPace::is_calmest() const {
  const double length = std::hypot(shift_.x, shift_.y);
  return is_nearly_still() || (length <= kCalm * usual_ + 0.5 && length >= before_);
}

bool SweepPace::is_search_due() const {
  if (is_new_ || since_ > kLongStep * longer_side_) return true;
  if (since_ > kStep * longer_side_ && is_calmest()) return true;
  return frame_ - searched_ >= kMostFramesBetween && at_rest_ < kSearchesAtRest;
}

bool SweepPace::is_last_search_due() const {
  return since_clear_ > kInView * longer_side_ && since_last_ > kLongStep * longer_side_;
}

void SweepPace::searched_last() {
  since_last_ = 0;
}

void SweepPace::searched(bool clear) {
  if (clear) since_clear_ = 0;
  at_rest_ = since_ < kAtRest && !is_new_ ? at_rest_ + 1 : 0;
  searched_ = frame_;
  since_ = 0;
  is_new_ = false;
}

}  // namespace loadlight::vision
