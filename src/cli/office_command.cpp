// office move
#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/move_telling.h"

namespace loadlight::cli {
namespace {

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
