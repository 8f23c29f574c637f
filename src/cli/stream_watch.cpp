#include "cli/stream_watch.h"

#include <cmath>
#include <variant>

namespace loadlight::cli {
namespace {

constexpr std::chrono::seconds kBetween{3};

}  // namespace

StreamWatch::StreamWatch(const Context& context, int frames)
    : context_(context),
      frames_(frames),
      signals_(context.world.open_standard_input()),
      next_(began_ + kBetween) {}

bool StreamWatch::is_interrupted() {
  const auto read = signals_->next(Clock::now());
  return read && std::holds_alternative<port::Interrupted>(*read);
}

void StreamWatch::tell_progress(int frame) {
  const auto now = Clock::now();
  if (now < next_ || frame < 1 || !context_.world.person_is_there()) return;
  next_ = now + kBetween;
  core::Details details{{"frame", std::to_string(frame)}};
  if (frames_ >= frame) {
    const double spent = std::chrono::duration<double>(now - began_).count();
    const double left = spent / frame * (frames_ - frame);
    details.emplace_back("frames", std::to_string(frames_));
    details.emplace_back("seconds", std::to_string(std::lround(left)));
  }
  context_.tell(context_.text("line.read.progress", details));
}

}  // namespace loadlight::cli
