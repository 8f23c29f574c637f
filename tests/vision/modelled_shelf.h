// Modelled shelves: frames crowded with labels, a window panning along one, and frames without any label.
// The same seed always draws the same shelf.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "loadlight/port/picture.h"
#include "vision/look_alikes.h"
#include "vision/modelled_label.h"

namespace loadlight::vision_tests {

struct ShelfLabel final {
  std::string text;
  port::Corners corners{};  // pixels of the whole shelf, clockwise from the symbol's own top left
  double module = 0;        // pixels, at its middle
};

// A shelf as it falls on the sensor, before noise and file. bgr is CV_8UC3.
struct Shelf final {
  cv::Mat bgr;
  std::vector<ShelfLabel> labels;
};

struct ShelfOrder final {
  double difficulty = 0;  // 0 easy; the bench's hard frames have 0.6
  int labels = 80;
  cv::Size size{3840, 2160};  // pixels
  double least_module = 2;    // pixels
  double most_module = 4;
  int boxes = 0;  // so many blank labels bear a filled tick box, which has a finder's proportions
};

// Labels laid out among blank ones and clutter, each with its own harms, none over another's symbol.
Shelf modelled_shelf(const ShelfOrder& order, cv::RNG& rng);

// Noise and JPEG of a whole frame at this difficulty.
cv::Mat shelf_frame(const Shelf& shelf, double difficulty, cv::RNG& rng);

// A 1080p window moving along a shelf of 113 labels at v(1 + 0.9 sin 0.35 t) pixels a frame, t in frames,
// with a motion blur of a quarter of that and noise 4. Makes one frame at a time.
class Pan final {
 public:
  Pan(double speed, cv::RNG& rng);

  // The next frame, CV_8UC3; empty after the last.
  cv::Mat next();

  const std::vector<ShelfLabel>& labels() const { return shelf_.labels; }
  // Where the last frame's left edge lay, pixels of the shelf.
  double left() const { return left_; }

 private:
  Shelf shelf_;
  double speed_;
  cv::RNG rng_;
  int frame_ = 0;
  double left_ = 0;
  double next_left_ = 0;
};

// A bench crowded with everything but a QR symbol: blank labels, text, and some of `stock`, turned and
// scaled. CV_8UC3, noise and JPEG done.
cv::Mat frame_without_labels(cv::Size size, const std::vector<LookAlike>& stock, cv::RNG& rng);

}  // namespace loadlight::vision_tests
