// Port: frames one after another, from a camera or a video file. Implemented by vision.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "loadlight/core/result.h"
#include "loadlight/port/picture.h"

namespace loadlight::port {

struct Frame final {
  GrayPicture picture;  // upright
  int number = 1;       // from 1, in the order of the source; those left out count too
  double seconds = 0;   // since the first frame, by the source's own clock
  std::string file;     // of a folder of photographs; empty for cameras and videos
  // A picture of its own rather than the continuation of the frame before it.
  bool apart = false;
};

// What a source says of itself before it is read; a video's own word, which may be wrong.
struct FrameOutlook final {
  int frames = 0;              // 0: not known, or without end
  double frames_a_second = 0;  // 0: not known
};

// Frames until the end, or until it is closed or fails. Not thread-safe. Memory holds one frame and what the
// decoder needs, however long it runs.
class FrameSource {
 public:
  virtual ~FrameSource() = default;

  // The next frame, blocking; nothing after the last. Fails with CameraUnavailable when a camera is gone; of
  // a video that stops before its own end with VideoCutOff (details: path, frames, expected), once,
  // after every frame that could be had.
  virtual core::Result<std::optional<Frame>> next() = 0;

  // Goes on after frame `number` without decoding more than it must; the next frame has a higher number.
  // Of a camera it does nothing.
  virtual core::Result<void> skip_to(int number) = 0;

  virtual FrameOutlook outlook() const = 0;
};

class CameraDoor {
 public:
  virtual ~CameraDoor() = default;
  // Opens camera `number` (0 is the first); CameraUnavailable if there is none or it is taken.
  virtual core::Result<std::unique_ptr<FrameSource>> open(int number) const = 0;
};

class VideoDoor {
 public:
  virtual ~VideoDoor() = default;
  // FileUnreadable (details: path, why) or VideoUnreadable (details: path, problem, one of empty,
  // unknown-video-format, no-video, video-too-large). Frames are turned upright as the file says. A file cut
  // off before its index (an MP4's often stands at its end) opens; its first frame fails with VideoCutOff,
  // frames 0.
  virtual core::Result<std::unique_ptr<FrameSource>> open(const std::string& path) const = 0;
};

}  // namespace loadlight::port
