#include "app/sweep_pictures.h"

#include <algorithm>
#include <cmath>

#include "app/picture_cut.h"

namespace loadlight::app {
namespace {

constexpr double kMostOfAFrame = 0.8;

bool lies_within(const port::Corners& corners, const SweepPicture& picture) {
  return std::all_of(corners.begin(), corners.end(), [&](const port::PixelPoint& corner) {
    return corner.x >= 0 && corner.y >= 0 && corner.x <= picture.width && corner.y <= picture.height;
  });
}

}  // namespace

bool SweepPictures::is_due(const port::Frame& frame) const {
  return frame.apart || pictures_.empty() || std::abs(moved_x_) >= kMostOfAFrame * frame.picture.width ||
         std::abs(moved_y_) >= kMostOfAFrame * frame.picture.height;
}

void SweepPictures::see(const port::Frame& frame, double shift_x, double shift_y,
                        const std::vector<InView>& labels) {
  moved_x_ += shift_x;
  moved_y_ += shift_y;
  if (is_due(frame)) {
    drop_bare();
    if (pictures_.size() >= kMost) return;
    begin(frame);
  }
  mark(labels);
}

std::vector<SweepPicture> SweepPictures::take() {
  drop_bare();
  return std::move(pictures_);
}

// The newest, when no label was seen in it.
void SweepPictures::drop_bare() {
  if (!pictures_.empty() && pictures_.back().marks.empty()) pictures_.pop_back();
}

void SweepPictures::begin(const port::Frame& frame) {
  const port::GrayView view = frame.picture.view();
  const PictureSize size = reduced_size(view, kLongestSide);
  scale_ = static_cast<double>(size.width) / frame.picture.width;
  moved_x_ = moved_y_ = 0;
  SweepPicture& picture = pictures_.emplace_back();
  picture.frame = frame.number;
  picture.file = frame.file;
  picture.jpeg = source_.jpeg(view, kLongestSide);
  picture.width = size.width;
  picture.height = size.height;
}

void SweepPictures::mark(const std::vector<InView>& labels) {
  SweepPicture& picture = pictures_.back();
  for (const InView& label : labels) {
    const auto known = [&](const SweepPicture::Mark& mark) { return mark.package == label.package; };
    if (std::any_of(picture.marks.begin(), picture.marks.end(), known)) continue;
    port::Corners corners = label.corners;
    for (port::PixelPoint& corner : corners) {
      corner = {(corner.x - moved_x_) * scale_, (corner.y - moved_y_) * scale_};
    }
    if (lies_within(corners, picture)) picture.marks.push_back({corners, label.package});
  }
}

}  // namespace loadlight::app
