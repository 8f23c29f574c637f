// Turns at writing, for the units of one process: first come, first served. An engine's own waiting is not: whoever
// asks at the right moment goes first, and somebody may starve.
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <utility>

namespace loadlight::store {

// Thread-safe.
class WritingTurns final : public std::enable_shared_from_this<WritingTurns> {
 public:
  // One's turn, until it is gone.
  class Turn final {
   public:
    explicit Turn(std::shared_ptr<WritingTurns> turns) : turns_(std::move(turns)) {}
    Turn(Turn&& other) noexcept = default;
    Turn& operator=(Turn&&) = delete;
    ~Turn() {
      if (turns_) turns_->end();
    }

   private:
    std::shared_ptr<WritingTurns> turns_;
  };

  // Nothing when it has not come after so long.
  std::optional<Turn> take(std::chrono::milliseconds patience);

 private:
  void end();

  std::mutex mutex_;
  std::condition_variable moved_;
  std::deque<std::uint64_t> waiting_;  // whose turn it is stands first
  std::uint64_t newest_ = 0;
  bool taken_ = false;
};

}  // namespace loadlight::store
