#include "vision/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace loadlight::vision {

void in_parallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next{0};
  std::exception_ptr thrown;
  std::mutex guard;
  const auto take_turns = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        const std::lock_guard lock{guard};
        if (!thrown) thrown = std::current_exception();
      }
    }
  };
  const std::size_t others = std::min(count, static_cast<std::size_t>(std::max(1, threads))) - (count > 0);
  {
    std::vector<std::jthread> crew;
    for (std::size_t i = 0; i < others; ++i) crew.emplace_back(take_turns);
    take_turns();
  }
  if (thrown) std::rethrow_exception(thrown);
}

}  // namespace loadlight::vision
