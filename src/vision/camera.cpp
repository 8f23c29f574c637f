#include "vision/camera.h"

#include <chrono>
#include <exception>
#include <opencv2/imgproc.hpp>
#include <opencv2/videoio.hpp>
#include <string>

#include "vision/gray_mat.h"
#include "vision/quiet_libraries.h"

namespace loadlight::vision {
namespace {

core::Failure unavailable(int number) {
  return {core::FailureCode::CameraUnavailable, {{"camera", std::to_string(number)}}, {}};
}

class VideoCamera final : public port::FrameSource {
 public:
  VideoCamera(int number, cv::VideoCapture capture) : number_(number), capture_(std::move(capture)) {}

  core::Result<std::optional<port::Frame>> next() override {
    try {
      cv::Mat frame;
      if (!capture_.read(frame) || frame.empty()) return unavailable(number_);
      const auto now = std::chrono::steady_clock::now();
      if (frames_++ == 0) began_ = now;
      return std::optional<port::Frame>{
          {gray_picture(frame), frames_, std::chrono::duration<double>(now - began_).count(), {}, false}};
    } catch (const std::exception&) {
      return unavailable(number_);
    }
  }

  core::Result<void> skip_to(int) override { return {}; }
  port::FrameOutlook outlook() const override { return {}; }

 private:
  int number_;
  cv::VideoCapture capture_;
  int frames_ = 0;
  std::chrono::steady_clock::time_point began_{};
};

}  // namespace

core::Result<std::unique_ptr<port::FrameSource>> VideoCameraDoor::open(int number) const {
  if (number < 0) return unavailable(number);
  try {
    const QuietLibraries quiet;
    cv::VideoCapture capture(number);
    if (!capture.isOpened()) return unavailable(number);
    return std::unique_ptr<port::FrameSource>(std::make_unique<VideoCamera>(number, std::move(capture)));
  } catch (const std::exception&) {
    return unavailable(number);
  }
}

}  // namespace loadlight::vision
