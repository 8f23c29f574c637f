#include "loadlight/app/again.h"

#include <algorithm>
#include <chrono>
#include <random>
#include <thread>

namespace loadlight::app {
namespace {

thread_local std::int64_t commits = 0;

}  // namespace

void pause_after(int attempts) {
  thread_local std::minstd_rand dice{std::random_device{}()};
  const int longest = std::min(250, 4 << std::min(attempts, 6));  // milliseconds
  std::this_thread::sleep_for(std::chrono::milliseconds{std::uniform_int_distribution<int>{1, longest}(dice)});
}

std::int64_t commits_of_this_thread() {
  return commits;
}

void note_commit() {
  ++commits;
}

}  // namespace loadlight::app
