// Labels of a sweep that left the view unread: what their pictures still yield, a little of it each frame.
#pragma once

#include <deque>
#include <vector>

#include "vision/label_track.h"
#include "vision/seen_grid.h"

namespace loadlight::vision {

// Not thread-safe. What fails on a label's pictures leaves it lost: then a person must look.
class LeavingLabels final {
 public:
  // Takes a label that is not read. One that was met too seldom, or shows too little print, is forgotten.
  void add(LabelTrack track);
  // Nothing more is tried; it has a shot.
  void lose(const LabelTrack& track);

  // The scene moved on, pixels.
  void move(cv::Point2d shift);

  bool is_empty() const { return waiting_.empty(); }
  // One try at one of them; or all there are for all of them.
  void spend_a_try();
  void spend_all();

  // Since they were last taken.
  std::vector<LabelTrack> take_read();
  std::vector<port::LostPlace> take_lost();

 private:
  void spend_a_try(const GridBudget& budget, int most);
  bool try_next(LabelTrack& track, const GridBudget& budget, int most);

  std::deque<LabelTrack> waiting_;
  std::vector<LabelTrack> read_;
  std::vector<port::LostPlace> lost_;
};

}  // namespace loadlight::vision
