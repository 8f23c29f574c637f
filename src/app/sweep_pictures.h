// Pictures of the sweep for its report.
#pragma once

#include <cstddef>
#include <vector>

#include "loadlight/app/audit_shelf.h"

namespace loadlight::app {

// Takes a picture whenever the scene has moved on by most of a frame, and of every picture of its own, and
// keeps those with a label in them; at most so many.
class SweepPictures final {
 public:
  static constexpr std::size_t kMost = 120;
  static constexpr int kLongestSide = 1600;  // pixels

  struct InView final {
    port::Corners corners{};
    std::size_t package = 0;  // index in AuditReply::packages
  };

  explicit SweepPictures(const port::PictureSource& source) : source_(source) {}

  // The frame, how far the scene moved in it since the one before, and the labels seen in it. Labels read
  // only later are marked where they lay in the newest picture.
  void see(const port::Frame& frame, double shift_x, double shift_y, const std::vector<InView>& labels);
  std::vector<SweepPicture> take();

 private:
  bool is_due(const port::Frame& frame) const;
  void drop_bare();
  void begin(const port::Frame& frame);
  void mark(const std::vector<InView>& labels);

  const port::PictureSource& source_;
  std::vector<SweepPicture> pictures_;
  double scale_ = 1;    // of the newest picture
  double moved_x_ = 0;  // since the newest picture, pixels of a frame
  double moved_y_ = 0;
};

}  // namespace loadlight::app
