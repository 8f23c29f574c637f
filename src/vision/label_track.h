// One label of a sweep as long as it stays in view.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "loadlight/port/sweep.h"
#include "vision/quadrilateral.h"
#include "vision/soft_grid.h"

namespace loadlight::vision {

// The place and its surroundings in one frame.
struct Shot final {
  port::GrayPicture picture;
  Quadrilateral in_picture{};
  Quadrilateral in_frame{};
  int frame = 0;
  std::string file;
  double sharpness = 0;   // mean step from pixel to pixel, grey levels
  double evenness = 1;    // the lesser of the steps across and down over the greater: motion lowers it
  bool is_tried = false;  // with a grid
};

// Not thread-safe. Throws what OpenCV throws.
class LabelTrack final {
 public:
  // Frames reduced by this much tell whether a label is where it is thought to be.
  static constexpr int kReduction = 4;
  static constexpr std::size_t kMostShots = 4;

  LabelTrack(int number, const Quadrilateral& corners, double module)
      : number_(number), corners_(corners), module_(module) {}

  int number() const { return number_; }
  const std::string& text() const { return text_; }  // empty: not read
  bool is_read() const { return !text_.empty(); }
  const Quadrilateral& corners() const { return corners_; }
  double module() const { return module_; }                  // pixels; 0: not known
  const std::vector<Shot>& shots() const { return shots_; }  // the sharpest first
  bool is_fresh() const { return fresh_; }                   // read in this frame

  void begin_frame() { fresh_ = false; }
  void move(cv::Point2d shift);
  // Puts the label where its own picture is found again near where it is thought to be; where it is not,
  // it stays where the motion took it, and after kMostMissed such frames it is lost.
  void find_again(const cv::Mat& reduced);
  bool is_lost() const { return missed_ > kMostMissed; }

  // A finder search met it there.
  void place_at(const Quadrilateral& corners, double module, const cv::Mat& reduced);
  void measure(double module) { module_ = module; }
  void read_as(const std::string& text, const Quadrilateral& corners, const cv::Mat& reduced);

  // Keeps the frame's picture of it if it is among the sharpest.
  void keep_shot(const port::Frame& frame);
  double sharpness_now() const { return sharpness_now_; }  // of the last picture offered to keep_shot
  double evenness_now() const { return evenness_now_; }    // the same

  bool is_within(cv::Size frame) const;  // its middle is
  // Frames until its outline touches the border, at this shift a frame; many if it does not move there.
  double frames_left(cv::Size frame, cv::Point2d shift) const;

  // Met by a search, or found again, in at least three frames, so that noise is none.
  bool has_persisted() const { return met_ >= kMeetings; }

  // Whether a grid over a picture of it is worth its cost: two searches met it, it was not tried `most`
  // times, and its sharpest picture is past.
  bool is_grid_due(int frame_now, int most) const;
  Shot* sharpest_untried();  // none: nullptr

  // What was tried to read it, and when next; kept by the sweep.
  int tries = 0;
  int next_try = 0;            // frame, as SweepPace counts them
  int next_grid = 0;           // the same
  int grids = 0;               // tried
  std::vector<SoftGrid> laid;  // that could not be read

 private:
  static constexpr int kMostMissed = 8;
  static constexpr int kMeetings = 3;

  void anchor(const cv::Mat& reduced);

  int number_;
  std::string text_;
  Quadrilateral corners_;
  double module_;
  bool fresh_ = false;
  int met_ = 0;
  int searched_ = 0;
  int missed_ = 0;
  cv::Mat anchor_;           // its picture in a reduced frame
  cv::Point2d anchor_from_;  // from the label's middle to the anchor's top left, reduced pixels
  std::vector<Shot> shots_;
  double sharpness_now_ = 0;
  double evenness_now_ = 1;
};

}  // namespace loadlight::vision
