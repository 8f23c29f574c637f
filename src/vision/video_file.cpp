#include "vision/video_file.h"

#include <fcntl.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <exception>
#include <fstream>
#include <mutex>
#include <opencv2/core.hpp>
#include <opencv2/videoio.hpp>

#include "vision/gray_mat.h"
#include "vision/quiet_libraries.h"
#include "vision/video_container.h"

namespace loadlight::vision {
namespace {

// 16K; a frame in colour then takes 400 MB while it is turned into grey levels.
constexpr double kMostFramePixels = 134e6;
// A container counts frames that no decoder shows: those before an edit's beginning, or without a picture.
// Fewer than this share of them, and the rest was lost.
constexpr double kLeastShown = 0.9;
constexpr int kFewFrames = 5;

core::Failure unreadable(const std::string& path, const char* why) {
  return {core::FailureCode::FileUnreadable, {{"path", path}, {"why", why}}, {}};
}

core::Failure no_video(const std::string& path, const char* problem) {
  return {core::FailureCode::VideoUnreadable, {{"path", path}, {"problem", problem}}, {}};
}

const char* why_not_opened(int error) {
  if (error == ENOENT || error == ENOTDIR) return "absent";
  if (error == ELOOP) return "link-loop";
  if (error == ENAMETOOLONG) return "name-too-long";
  if (error == EMFILE || error == ENFILE) return "too-many-open";
  return "forbidden";
}

class OpenFile final {
 public:
  // Does not wait for the other end of a pipe.
  explicit OpenFile(const std::string& path)
      : number_(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY)), error_(errno) {
    if (number_ >= 0 && fstat(number_, &status_) != 0) status_.st_mode = 0;
  }
  ~OpenFile() {
    if (number_ >= 0) close(number_);
  }
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;

  // Why it cannot be read, a code of the words catalogue; nothing if it can.
  const char* trouble() const {
    if (number_ < 0) return why_not_opened(error_);
    if (S_ISDIR(status_.st_mode)) return "is-folder";
    return S_ISREG(status_.st_mode) ? nullptr : "not-a-file";
  }
  bool empty() const { return status_.st_size == 0; }
  // Names this very file, whatever is put at its path meanwhile.
  std::string name() const { return "/dev/fd/" + std::to_string(number_); }

 private:
  int number_;
  int error_;
  struct stat status_ {};
};

// FFmpeg's threads write to standard error whenever they like; OpenCV 4.6 takes their level from here alone,
// when it first opens a video.
void quieten_decoders() {
  static std::once_flag once;
  std::call_once(once, [] { setenv("OPENCV_FFMPEG_LOGLEVEL", "-8", 0); });
}

struct Promise final {
  int frames = 0;  // 0: the container does not count them
  double frames_a_second = 0;
  bool cut_short = false;
};

class VideoFile final : public port::FrameSource {
 public:
  // A closed capture yields no frame: of a video that was cut off before its index.
  VideoFile(std::string path, cv::VideoCapture capture, const Promise& promise)
      : path_(std::move(path)), capture_(std::move(capture)), promise_(promise) {
    if (capture_.isOpened()) quarters_ = static_cast<int>(capture_.get(cv::CAP_PROP_ORIENTATION_META)) / 90;
  }

  core::Result<std::optional<port::Frame>> next() override {
    if (ended_) return std::optional<port::Frame>{};
    try {
      const QuietLibraries quiet;
      cv::Mat frame;
      if (!grab() || !capture_.retrieve(frame) || frame.empty()) return ending();
      if (static_cast<double>(frame.total()) > kMostFramePixels) return ending();
      return std::optional<port::Frame>{{upright(frame), number_, seconds_, {}, false}};
    } catch (const std::exception&) {
      return ending();
    }
  }

  core::Result<void> skip_to(int number) override {
    try {
      const QuietLibraries quiet;
      while (number_ < number && !drained_ && grab()) {
      }
    } catch (const std::exception&) {
      drained_ = true;
    }
    return {};
  }

  port::FrameOutlook outlook() const override { return {promise_.frames, promise_.frames_a_second}; }

 private:
  bool grab() {
    if (drained_ || !capture_.isOpened() || !capture_.grab()) {
      drained_ = true;
      return false;
    }
    const double seconds = capture_.get(cv::CAP_PROP_POS_MSEC) / 1000;
    if (number_++ == 0) began_ = seconds;
    if (std::isfinite(seconds)) seconds_ = std::max(seconds_, seconds - began_);
    return true;
  }

  // OpenCV 4.6 turns by the file's angle the wrong way round, so that it is asked for the angle alone:
  // quarters against the clock. Shown by the tests with a matrix of ISO/IEC 14496-12.
  port::GrayPicture upright(const cv::Mat& frame) const {
    constexpr int kTurns[] = {-1, cv::ROTATE_90_COUNTERCLOCKWISE, cv::ROTATE_180, cv::ROTATE_90_CLOCKWISE};
    const int turn = kTurns[quarters_ & 3];
    if (turn < 0) return gray_picture(frame);
    cv::Mat turned;
    cv::rotate(frame, turned, turn);
    return gray_picture(turned);
  }

  core::Result<std::optional<port::Frame>> ending() {
    ended_ = true;
    const bool lost = number_ + kFewFrames < promise_.frames && number_ < kLeastShown * promise_.frames;
    if (!promise_.cut_short && !lost) return std::optional<port::Frame>{};
    core::Details details{{"path", path_}, {"frames", std::to_string(number_)}};
    if (promise_.frames > number_) details.emplace_back("expected", std::to_string(promise_.frames));
    return core::Failure{core::FailureCode::VideoCutOff, details, {}};
  }

  std::string path_;
  cv::VideoCapture capture_;
  Promise promise_;
  int quarters_ = 0;
  int number_ = 0;  // of the frame grabbed last
  double began_ = 0;
  double seconds_ = 0;
  bool drained_ = false;
  bool ended_ = false;
};

int frame_count(const cv::VideoCapture& capture) {
  const double count = capture.get(cv::CAP_PROP_FRAME_COUNT);
  return count > 0 && count < 1e9 ? static_cast<int>(count) : 0;
}

Promise promise_of(const cv::VideoCapture& capture, Container container, bool cut_short) {
  Promise promise{0, 0, cut_short};
  if (!capture.isOpened()) return promise;
  // Elsewhere OpenCV guesses the count from the length and the rate.
  if (container == Container::Iso || container == Container::Avi) promise.frames = frame_count(capture);
  const double rate = capture.get(cv::CAP_PROP_FPS);
  if (rate > 0 && rate <= 1000) promise.frames_a_second = rate;
  return promise;
}

core::Result<std::unique_ptr<port::FrameSource>> open_video(const std::string& path) {
  const OpenFile file{path};
  if (file.trouble() != nullptr) return unreadable(path, file.trouble());
  if (file.empty()) return no_video(path, "empty");
  std::ifstream bytes(file.name(), std::ios::binary);
  const auto container = container_of(bytes);
  if (!container) return no_video(path, "unknown-video-format");
  const bool cut_short = is_cut_short(bytes, *container);
  quieten_decoders();
  const QuietLibraries quiet;
  cv::VideoCapture capture(file.name(), cv::CAP_FFMPEG);
  if (!capture.isOpened() && !cut_short) return no_video(path, "no-video");
  if (capture.isOpened()) {
    capture.set(cv::CAP_PROP_ORIENTATION_AUTO, 0);
    const double pixels = capture.get(cv::CAP_PROP_FRAME_WIDTH) * capture.get(cv::CAP_PROP_FRAME_HEIGHT);
    if (pixels > kMostFramePixels) return no_video(path, "video-too-large");
  }
  const Promise promise = promise_of(capture, *container, cut_short);
  return std::unique_ptr<port::FrameSource>(std::make_unique<VideoFile>(path, std::move(capture), promise));
}

}  // namespace

core::Result<std::unique_ptr<port::FrameSource>> VideoFileDoor::open(const std::string& path) const {
  try {
    return open_video(path);
  } catch (const std::exception&) {
    return no_video(path, "no-video");
  }
}

}  // namespace loadlight::vision
