// When a sweep's frame is worth a search over all of it.
#pragma once

#include <opencv2/core.hpp>

namespace loadlight::vision {

// A search costs a good part of a plain read, so it is made when the scene has moved by a step, in a frame
// that smears little; at the latest after a long step or a dozen frames. Not thread-safe.
class SweepPace final {
 public:
  // The scene moved by `shift` since the frame before; `longer_side` of the frame, pixels.
  void moved(cv::Point2d shift, int longer_side);
  // A scene that does not continue the one before.
  void begin_anew();

  bool is_nearly_still() const;  // smears far less than usual
  bool is_slow() const;          // a label stays for hundreds of frames
  bool is_search_due() const;
  // `clear`: in a frame that smeared too little to hide a label.
  void searched(bool clear);

  // Whether what is about to leave was in view in no clear search, nor in the last one of its kind.
  bool is_last_search_due() const;
  void searched_last();

  int frame() const { return frame_; }  // how many there were
  cv::Point2d shift() const { return shift_; }

 private:
  static constexpr double kNever = 1e9;

  bool is_calmest() const;

  int frame_ = 0;
  int searched_ = 0;  // in which frame
  int at_rest_ = 0;   // searches since the scene last moved
  bool is_new_ = true;
  double longer_side_ = 0;
  double since_ = 0;             // pixels moved since the last search
  double since_clear_ = kNever;  // pixels moved since the last clear search
  double since_last_ = kNever;   // pixels moved since the last search of what leaves
  double usual_ = 0;             // pixels a frame
  cv::Point2d shift_;
  double before_ = 0;  // length of the shift before
};

}  // namespace loadlight::vision
