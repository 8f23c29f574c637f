// Watches over a long reading: whether somebody wants it to stop, and how far it is.
#pragma once

#include <chrono>
#include <memory>

#include "cli/context.h"
#include "loadlight/port/line_source.h"

namespace loadlight::cli {

// Takes SIGINT and SIGTERM while it lives, so that what was answered before stands. Not thread-safe.
class StreamWatch final {
 public:
  // `frames` that are to come; 0: not known.
  StreamWatch(const Context& context, int frames);

  bool is_interrupted();
  // Every few seconds, to a person who waits: how many frames were seen, and about how long the rest takes.
  void tell_progress(int frame);

 private:
  using Clock = std::chrono::steady_clock;

  const Context& context_;
  int frames_;
  std::unique_ptr<port::LineSource> signals_;
  Clock::time_point began_ = Clock::now();
  Clock::time_point next_;
};

}  // namespace loadlight::cli
