// Frames that a browser sends one by one, for an audit that takes them in a thread of its own.
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstddef>
#include <deque>
#include <mutex>
#include <optional>
#include <string>

#include "loadlight/port/frame_source.h"

namespace loadlight::web {

class PostedFrames final : public port::FrameSource {
 public:
  static constexpr std::size_t kMostWaiting = 2;  // frames: this bounds the memory
  static constexpr std::chrono::seconds kRoomComesWithin{3};

  // Without a frame for so long the sender counts as gone.
  explicit PostedFrames(std::chrono::seconds patience) : patience_(patience) {}

  // The sender's side. The number the frame got; nothing when it is not wanted: the frames are over, or the
  // audit is behind. `file`: of a photograph, which then stands apart.
  std::optional<int> put(port::GrayPicture picture, const std::string& file = {});
  void finish();  // no more will come; what waits is still taken
  void drop();    // the sender is gone: CameraUnavailable once what waits was taken

  // The audit's side.
  core::Result<std::optional<port::Frame>> next() override;
  core::Result<void> skip_to(int number) override;
  port::FrameOutlook outlook() const override { return {}; }

 private:
  enum class State { Open, Finished, Dropped };

  const std::chrono::seconds patience_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<port::Frame> waiting_;
  State state_ = State::Open;
  int last_number_ = 0;
  std::optional<std::chrono::steady_clock::time_point> began_;
};

}  // namespace loadlight::web
