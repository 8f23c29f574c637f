#include "vision/video_file.h"

namespace loadlight::vision {

core::Result<std::unique_ptr<port::FrameSource>> VideoFileDoor::open(const std::string& path) const {
  return core::Failure{core::FailureCode::VideoUnreadable, {{"path", path}, {"problem", "no-video"}}, {}};
}

}  // namespace loadlight::vision
