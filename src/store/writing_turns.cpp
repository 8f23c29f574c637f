#include "writing_turns.h"

#include <algorithm>

namespace loadlight::store {

std::optional<WritingTurns::Turn> WritingTurns::take(std::chrono::milliseconds patience) {
  std::unique_lock lock{mutex_};
  const std::uint64_t mine = ++newest_;
  waiting_.push_back(mine);
  const bool came = moved_.wait_for(lock, patience, [&] { return !taken_ && waiting_.front() == mine; });
  waiting_.erase(std::find(waiting_.begin(), waiting_.end(), mine));
  if (came) {
    taken_ = true;
    return Turn{shared_from_this()};
  }
  moved_.notify_all();
  return std::nullopt;
}

void WritingTurns::end() {
  {
    const std::lock_guard lock{mutex_};
    taken_ = false;
  }
  moved_.notify_all();
}

}  // namespace loadlight::store
