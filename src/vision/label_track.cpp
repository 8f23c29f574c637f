#include "vision/label_track.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

#include "vision/gray_mat.h"
#include "vision/tiles.h"

namespace loadlight::vision {
namespace {

constexpr double kShotSides = 1.6;      // how wide a shot is, in symbols
constexpr double kLeastLikeness = 0.5;  // correlation with its own picture
constexpr int kSearches = 2;            // at least so many met it before a grid is laid
constexpr int kSearch = 2;              // reduced pixels each way
constexpr int kLeastAnchor = 6;         // reduced pixels; a smaller picture tells nothing

bool is_untried(const Shot& shot) {
  return !shot.is_tried;
}

void shift_by(Quadrilateral& corners, double x, double y) {
  for (auto& corner : corners) {
    corner.x += x;
    corner.y += y;
  }
}

struct Steps final {
  double lesser = 0;  // mean step from pixel to pixel: motion takes the edges across it away
  double greater = 0;
};

Steps steps_of(port::GrayView view) {
  double across = 0;
  double down = 0;
  for (int y = 0; y + 1 < view.height; y += 2) {
    const auto* row = view.pixels + static_cast<std::ptrdiff_t>(y) * view.stride;
    for (int x = 0; x + 1 < view.width; ++x) {
      across += std::abs(row[x + 1] - row[x]);
      down += std::abs(row[view.stride + x] - row[x]);
    }
  }
  const double steps = std::max(1.0, view.width / 2.0 * view.height);
  return {std::min(across, down) / steps, std::max(across, down) / steps};
}

port::GrayPicture copy_of(port::GrayView view) {
  port::GrayPicture copy{view.width, view.height, {}};
  copy.pixels.reserve(static_cast<std::size_t>(view.width) * static_cast<std::size_t>(view.height));
  for (int y = 0; y < view.height; ++y) {
    const auto* row = view.pixels + static_cast<std::ptrdiff_t>(y) * view.stride;
    copy.pixels.insert(copy.pixels.end(), row, row + view.width);
  }
  return copy;
}

// Where a parabola through three neighbouring values is highest, from the middle one: -0.5 to 0.5.
double peak_offset(double before, double here, double after) {
  const double bend = before - 2 * here + after;
  return bend < 0 ? std::clamp(0.5 * (before - after) / bend, -0.5, 0.5) : 0;
}

cv::Point2d peak_of(const cv::Mat& likeness, cv::Point at) {
  const auto value = [&](int x, int y) { return static_cast<double>(likeness.at<float>(y, x)); };
  cv::Point2d peak = at;
  if (at.x > 0 && at.x + 1 < likeness.cols) {
    peak.x += peak_offset(value(at.x - 1, at.y), value(at.x, at.y), value(at.x + 1, at.y));
  }
  if (at.y > 0 && at.y + 1 < likeness.rows) {
    peak.y += peak_offset(value(at.x, at.y - 1), value(at.x, at.y), value(at.x, at.y + 1));
  }
  return peak;
}

}  // namespace

void LabelTrack::move(cv::Point2d shift) {
  shift_by(corners_, shift.x, shift.y);
}

void LabelTrack::anchor(const cv::Mat& reduced) {
  const auto middle = centre_of(corners_);
  const double reach = extent(corners_) / 2;
  const cv::Rect wanted(static_cast<int>((middle.x - reach) / kReduction),
                        static_cast<int>((middle.y - reach) / kReduction),
                        static_cast<int>(2 * reach / kReduction), static_cast<int>(2 * reach / kReduction));
  const cv::Rect part = wanted & cv::Rect({}, reduced.size());
  missed_ = 0;
  anchor_ = part.width < kLeastAnchor || part.height < kLeastAnchor ? cv::Mat() : reduced(part).clone();
  anchor_from_ = {part.x - middle.x / kReduction, part.y - middle.y / kReduction};
}

void LabelTrack::find_again(const cv::Mat& reduced) {
  if (anchor_.empty()) return;
  const auto middle = centre_of(corners_);
  const cv::Point2d thought = cv::Point2d(middle.x, middle.y) / kReduction + anchor_from_;
  const cv::Point corner(static_cast<int>(std::lround(thought.x)) - kSearch,
                         static_cast<int>(std::lround(thought.y)) - kSearch);
  const cv::Rect around(corner, anchor_.size() + cv::Size(2 * kSearch, 2 * kSearch));
  if ((around & cv::Rect({}, reduced.size())) != around) return;  // at the border the motion alone tells
  cv::Mat likeness;
  cv::matchTemplate(reduced(around), anchor_, likeness, cv::TM_CCOEFF_NORMED);
  double best = 0;
  cv::Point at;
  cv::minMaxLoc(likeness, nullptr, &best, nullptr, &at);
  if (best < kLeastLikeness) {
    ++missed_;
    return;
  }
  missed_ = 0;
  ++met_;
  const cv::Point2d found = cv::Point2d(corner) + peak_of(likeness, at);
  shift_by(corners_, (found.x - thought.x) * kReduction, (found.y - thought.y) * kReduction);
}

void LabelTrack::place_at(const Quadrilateral& corners, double module, const cv::Mat& reduced) {
  corners_ = corners;
  module_ = module;
  ++met_;
  ++searched_;
  anchor(reduced);
}

void LabelTrack::read_as(const std::string& text, const Quadrilateral& corners, const cv::Mat& reduced) {
  fresh_ = text_.empty();
  text_ = text;
  corners_ = corners;
  shots_.clear();
  anchor(reduced);
}

void LabelTrack::keep_shot(const port::Frame& frame) {
  const auto view = frame.picture.view();
  const auto tile = tile_around(corners_, kShotSides, view);
  const auto steps = steps_of(cut(view, tile));
  const double sharpness = steps.lesser;
  const double evenness = steps.lesser / std::max(1e-9, steps.greater);
  sharpness_now_ = sharpness;
  evenness_now_ = evenness;
  if (shots_.size() == kMostShots && sharpness <= shots_.back().sharpness) return;
  if (shots_.size() == kMostShots) shots_.pop_back();
  Shot shot{
      copy_of(cut(view, tile)), corners_, corners_, frame.number, frame.file, sharpness, evenness, false};
  shift_by(shot.in_picture, -tile.left, -tile.top);
  const auto less_sharp = [&](const Shot& other) { return other.sharpness < sharpness; };
  shots_.insert(std::find_if(shots_.begin(), shots_.end(), less_sharp), std::move(shot));
}

bool LabelTrack::is_grid_due(int frame_now, int most) const {
  if (is_read() || !has_persisted() || searched_ < kSearches) return false;
  if (grids >= most || next_grid > frame_now) return false;
  const auto untried = std::find_if(shots_.begin(), shots_.end(), is_untried);
  return untried != shots_.end() && sharpness_now_ < untried->sharpness;
}

Shot* LabelTrack::sharpest_untried() {
  const auto found =
      std::find_if(shots_.begin(), shots_.end(), [](const Shot& shot) { return !shot.is_tried; });
  return found == shots_.end() ? nullptr : &*found;
}

bool LabelTrack::is_within(cv::Size frame) const {
  const auto middle = centre_of(corners_);
  return middle.x >= 0 && middle.y >= 0 && middle.x < frame.width && middle.y < frame.height;
}

double LabelTrack::frames_left(cv::Size frame, cv::Point2d shift) const {
  const auto middle = centre_of(corners_);
  const double reach = extent(corners_) / 2;
  const auto left = [reach](double at, double whole, double step) {
    if (std::abs(step) < 0.1) return std::numeric_limits<double>::infinity();
    return (step > 0 ? whole - reach - at : at - reach) / std::abs(step);
  };
  return std::min(left(middle.x, frame.width, shift.x), left(middle.y, frame.height, shift.y));
}

}  // namespace loadlight::vision
