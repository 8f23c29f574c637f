#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/sign_in.h"

namespace loadlight::cli {
namespace {

struct PinOptions final {
  std::string code;
};

// A PIN is issued, never typed here: an argument would stand in the shell's history.
int issue_pin(const Context& context, const PinOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto pins = context.world.open_pins(context.office_folder);
  const auto pin = app::set_pin((*office)->ports, *pins, {context.operator_code, options.code, {}});
  if (!pin) return context.fail(pin.failure());
  context.answer({{"operator", options.code}, {"pin", *pin}},
                 context.text("line.pin", {{"operator", options.code}, {"pin", *pin}}));
  return context.delivered(kDone);
}

}  // namespace

void add_pin_verb(CLI::App& operator_verb, Context& context) {
  CLI::App* verb = add_verb(operator_verb, context, "pin");
  auto options = on_call<PinOptions>(*verb, context, issue_pin);
  verb->add_option("code,--code", options->code, context.text("help.column.code"))->required();
}

}  // namespace loadlight::cli
