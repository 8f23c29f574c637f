// office move
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/move_office.h"

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

// Each step as it begins, and how far it is now and then.
class MoveTelling final {
 public:
  explicit MoveTelling(const Context& context) : context_(context) {}

  bool operator()(const app::MoveProgress& at) {
    const auto now = context_.world.clock.now();
    if (step_ == at.step && now - told_ < kBetweenTellings) return true;
    step_ = at.step;
    told_ = now;
    context_.tell(context_.text(step_key(at.step), {{"done", std::to_string(at.done)}, {"all", std::to_string(at.all)}}));
    return true;
  }

 private:
  const Context& context_;
  std::optional<app::MoveStep> step_;
  core::Instant told_{};
};

struct MoveOptions final {
  std::string to;
};

int move(const Context& context, const MoveOptions& options) {
  const auto moved = app::move_office(context.world, {context.office_folder, options.to, context.operator_code},
                                      MoveTelling{context});
  if (!moved) return context.fail(moved.failure());
  const core::Details gaps{{"from", context.office_folder}, {"to", options.to}, {"count", std::to_string(moved->entries)}};
  context.answer({{"from", context.office_folder}, {"to", options.to}, {"entries", moved->entries}, {"was_done", moved->was_done}},
                 context.text(moved->was_done ? "line.move.was-done" : "line.move.done", gaps));
  return context.delivered(kDone);
}

}  // namespace

void add_office(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "office");
  verb->require_subcommand(1);
  CLI::App* moving = add_verb(*verb, context, "move");
  add_option(*moving, context, "--to", on_call<MoveOptions>(*moving, context, move)->to)->required();
}

}  // namespace loadlight::cli
