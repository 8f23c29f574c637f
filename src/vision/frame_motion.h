// How the scene moves from one frame of a sweep to the next.
#pragma once

#include <opencv2/core.hpp>
#include <optional>

namespace loadlight::vision {

// One shift for the whole frame: a camera that is moved along a shelf. Not thread-safe; throws what OpenCV
// throws.
class FrameMotion final {
 public:
  // `reduced` is the frame reduced by `kReduction`. How far the scene moved since the frame before, in pixels
  // of the whole frame; nothing when this frame does not continue it: the first, a cut, one of another size.
  std::optional<cv::Point2d> follow(const cv::Mat& reduced);

  void forget() { before_ = {}; }

  static constexpr int kReduction = 8;

 private:
  struct Picture final {
    cv::Mat reduced;
    cv::Mat smooth;
    cv::Mat small;  // reduced once more, CV_32F
  };

  Picture before_;
  cv::Mat window_;
};

}  // namespace loadlight::vision
