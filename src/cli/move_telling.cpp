#include "cli/move_telling.h"

#include <chrono>

namespace loadlight::cli {
namespace {

constexpr std::chrono::seconds kBetweenTellings{2};

const char* step_key(app::MoveStep step) {
  switch (step) {
    case app::MoveStep::Copying:
      return "line.move.copying";
    case app::MoveStep::VerifyingOld:
      return "line.move.verifying-old";
    case app::MoveStep::CopyingRest:
      return "line.move.copying-rest";
    case app::MoveStep::VerifyingNew:
      return "line.move.verifying-new";
  }
  return "";
}

}  // namespace

bool MoveTelling::operator()(const app::MoveProgress& at) {
  const auto now = context_.world.clock.now();
  if (step_ == at.step && now - told_ < kBetweenTellings) return true;
  step_ = at.step;
  told_ = now;
  context_.tell(context_.text(step_key(at.step), {{"done", std::to_string(at.done)}, {"all", std::to_string(at.all)}}));
  return true;
}

}  // namespace loadlight::cli
