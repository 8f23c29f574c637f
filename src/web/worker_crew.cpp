#include "web/worker_crew.h"

namespace loadlight::web {

WorkerCrew::WorkerCrew(unsigned threads, std::size_t most_waiting) : most_waiting_(most_waiting) {
  for (unsigned i = 0; i < threads; ++i) threads_.emplace_back([this] { run(); });
}

bool WorkerCrew::offer(std::function<void()> work) {
  {
    const std::lock_guard lock{mutex_};
    if (finishing_ || waiting_.size() >= most_waiting_) return false;
    waiting_.push_back(std::move(work));
  }
  news_.notify_one();
  return true;
}

void WorkerCrew::finish() {
  {
    const std::lock_guard lock{mutex_};
    finishing_ = true;
  }
  news_.notify_all();
  for (std::thread& thread : threads_) thread.join();
  threads_.clear();
}

void WorkerCrew::run() {
  while (true) {
    std::function<void()> work;
    {
      std::unique_lock lock{mutex_};
      news_.wait(lock, [this] { return finishing_ || !waiting_.empty(); });
      if (waiting_.empty()) return;
      work = std::move(waiting_.front());
      waiting_.pop_front();
    }
    work();
  }
}

}  // namespace loadlight::web
