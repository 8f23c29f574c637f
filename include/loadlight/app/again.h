// Doing a thing again that met another station's change: what it had read was no longer so when it was to be written,
// and nothing of it was written.
#pragma once

#include <cstdint>

#include "loadlight/core/result.h"

namespace loadlight::app {

inline constexpr int kMostAttempts = 12;

inline bool was_changed_meanwhile(const core::Failure& failure) {
  return failure.code == core::FailureCode::ChangedMeanwhile;
}

// Waits a little, the longer the more attempts were made: at most a quarter of a second. The length is drawn, so that
// two who met do not meet again.
void pause_after(int attempts);

// `work` is one unit: a Result, of which nothing was written when it fails.
template <class Work>
auto again_if_changed(Work work) -> decltype(work()) {
  for (int attempt = 1;; ++attempt) {
    auto done = work();
    if (done || !was_changed_meanwhile(done.failure()) || attempt == kMostAttempts) return done;
    pause_after(attempt);
  }
}

// How many units this thread has committed. Who does something of several units again asks whether one was.
std::int64_t commits_of_this_thread();
// To be called after each.
void note_commit();

}  // namespace loadlight::app
