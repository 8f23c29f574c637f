#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/set_profile.h"

namespace loadlight::cli {
namespace {

int answer_view(const Context& context, const core::Result<app::ProfileView>& view) {
  if (!view) return context.fail(view.failure());
  if (!context.json) context.answer({}, context.text("line.profile", {{"profile", view->profile}}));
  for (const app::ProfileLine& line : view->lines) {
    context.answer({{"profile", view->profile},
                    {"name", line.name},
                    {"value", line.value},
                    {"own", line.own},
                    {"source", line.source}},
                   context.text(line.own ? "line.profile-own" : "line.profile-value",
                                {{"name", line.name}, {"value", line.value}, {"source", line.source}}));
  }
  return context.delivered(kDone);
}

struct ShowOptions final {};

int show(const Context& context, const ShowOptions&) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return answer_view(context, app::show_profile((*office)->ports));
}

struct SetOptions final {
  std::string name;
  std::string value;
  std::string why;
};

int set(const Context& context, const SetOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return answer_view(context, app::set_profile_value((*office)->ports, {context.operator_code, options.name,
                                                                        options.value, options.why}));
}

}  // namespace

void add_profile(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "profile");
  verb->require_subcommand(1);
  on_call<ShowOptions>(*add_verb(*verb, context, "show"), context, show);
  CLI::App* setting = add_verb(*verb, context, "set");
  auto options = on_call<SetOptions>(*setting, context, set);
  add_option(*setting, context, "setting", options->name)->required();
  add_option(*setting, context, "value", options->value)->required();
  add_option(*setting, context, "--why", options->why)->required();
}

}  // namespace loadlight::cli
