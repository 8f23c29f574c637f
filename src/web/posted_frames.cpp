#include "web/posted_frames.h"

#include <algorithm>
#include <utility>

namespace loadlight::web {

std::optional<int> PostedFrames::put(port::GrayPicture picture, const std::string& file) {
  std::unique_lock lock{mutex_};
  changed_.wait_for(lock, kRoomComesWithin,
                    [this] { return state_ != State::Open || waiting_.size() < kMostWaiting; });
  if (state_ != State::Open || waiting_.size() >= kMostWaiting) return std::nullopt;
  const auto now = std::chrono::steady_clock::now();
  if (!began_) began_ = now;
  port::Frame frame{std::move(picture), ++last_number_, std::chrono::duration<double>(now - *began_).count(), file,
                    !file.empty()};
  waiting_.push_back(std::move(frame));
  changed_.notify_all();
  return last_number_;
}

void PostedFrames::finish() {
  const std::lock_guard lock{mutex_};
  if (state_ == State::Open) state_ = State::Finished;
  changed_.notify_all();
}

void PostedFrames::drop() {
  const std::lock_guard lock{mutex_};
  if (state_ == State::Open) state_ = State::Dropped;
  changed_.notify_all();
}

core::Result<std::optional<port::Frame>> PostedFrames::next() {
  std::unique_lock lock{mutex_};
  changed_.wait_for(lock, patience_, [this] { return state_ != State::Open || !waiting_.empty(); });
  if (!waiting_.empty()) {
    port::Frame frame = std::move(waiting_.front());
    waiting_.pop_front();
    changed_.notify_all();
    return std::optional{std::move(frame)};
  }
  if (state_ == State::Finished) return std::optional<port::Frame>{};
  state_ = State::Dropped;
  return core::Failure{core::FailureCode::SweepCutOff, {}, {}};
}

core::Result<void> PostedFrames::skip_to(int number) {
  const std::lock_guard lock{mutex_};
  // Frames that came before the audit had looked up how far it was are counted on from there.
  const int shift = std::max(0, number - (last_number_ - static_cast<int>(waiting_.size())));
  for (port::Frame& frame : waiting_) frame.number += shift;
  last_number_ += shift;
  return {};
}

}  // namespace loadlight::web
