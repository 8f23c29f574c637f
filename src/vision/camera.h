#pragma once

#include "loadlight/port/frame_source.h"

namespace loadlight::vision {

// Cameras by number, as OpenCV counts them. Thread-safe; each FrameSource belongs to one thread.
class VideoCameraDoor final : public port::CameraDoor {
 public:
  core::Result<std::unique_ptr<port::FrameSource>> open(int number) const override;
};

}  // namespace loadlight::vision
