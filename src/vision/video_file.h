#pragma once

#include "loadlight/port/frame_source.h"

namespace loadlight::vision {

// Video files in the containers of video_container.h, decoded by FFmpeg behind OpenCV. Only a regular file is
// opened, and by its descriptor: no name is ever taken for an address, a device, a pattern or a playlist.
// An animated picture (GIF, WebP) is no video. Thread-safe; each FrameSource belongs to one thread.
class VideoFileDoor final : public port::VideoDoor {
 public:
  core::Result<std::unique_ptr<port::FrameSource>> open(const std::string& path) const override;
};

}  // namespace loadlight::vision
