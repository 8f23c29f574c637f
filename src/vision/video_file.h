#pragma once

#include "loadlight/port/frame_source.h"

namespace loadlight::vision {

// Video files of every container and codec that OpenCV's own decoders know. Thread-safe; each FrameSource
// belongs to one thread.
class VideoFileDoor final : public port::VideoDoor {
 public:
  core::Result<std::unique_ptr<port::FrameSource>> open(const std::string& path) const override;
};

}  // namespace loadlight::vision
