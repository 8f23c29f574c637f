// Threads that do work one piece after another.
#pragma once

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace loadlight::web {

class WorkerCrew final {
 public:
  WorkerCrew(unsigned threads, std::size_t most_waiting);
  ~WorkerCrew() { finish(); }

  // False when too much is waiting already, or the crew has finished; then `work` is never done. It must not
  // throw.
  bool offer(std::function<void()> work);
  // Does what is waiting, then ends. Safe to call twice.
  void finish();

 private:
  void run();

  const std::size_t most_waiting_;
  std::mutex mutex_;
  std::condition_variable news_;
  std::deque<std::function<void()>> waiting_;
  bool finishing_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace loadlight::web
