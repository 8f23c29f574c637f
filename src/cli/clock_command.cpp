#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/accept_clock.h"

namespace loadlight::cli {
namespace {

struct AcceptOptions final {
  std::string why;
};

int accept(const Context& context, const AcceptOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto ahead = app::accept_clock((*office)->ports, {context.operator_code, options.why});
  if (!ahead) return context.fail(ahead.failure());
  const std::string seconds = std::to_string(*ahead / 1000);
  context.answer({{"ahead_seconds", *ahead / 1000}}, context.text("line.clock", {{"seconds", seconds}}));
  return kDone;
}

}  // namespace

void add_clock(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "clock");
  verb->require_subcommand(1);
  CLI::App* accepting = add_verb(*verb, context, "accept");
  auto options = on_call<AcceptOptions>(*accepting, context, accept);
  add_option(*accepting, context, "--why", options->why)->required();
}

}  // namespace loadlight::cli
