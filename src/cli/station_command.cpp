#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/invite_station.h"

namespace loadlight::cli {
namespace {

using core::Result;

struct InviteOptions final {};

int invite(const Context& context, const InviteOptions&) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto invitation =
      app::invite_station(context.world, context.office_folder, (*office)->ports, context.operator_code);
  if (!invitation) return context.fail(invitation.failure());
  context.answer({{"code", invitation->code}}, context.text("line.station-code", {{"code", invitation->code}}));
  return context.delivered(kDone);
}

struct JoinOptions final {
  std::string station;
};

// The code is read from standard input: an argument would stand in the shell's history.
Result<std::string> read_code(const Context& context) {
  const auto lines = context.world.open_standard_input();
  const auto read = lines->next(std::nullopt);
  if (!read) return read.failure();
  const auto* line = std::get_if<port::Line>(&*read);
  return line ? line->text : std::string{};
}

int join(const Context& context, const JoinOptions& options) {
  if (context.world.person_is_there()) context.tell(context.text("line.station-ask"));
  const auto code = read_code(context);
  if (!code) return context.fail(code.failure());
  const auto station = context.world.group.join(context.office_folder, *code, options.station);
  if (!station) return context.fail(station.failure());
  context.answer({{"office", context.office_folder}, {"station", *station}},
                 context.text("line.station-joined", {{"office", context.office_folder}, {"station", *station}}));
  return context.delivered(kDone);
}

}  // namespace

void add_station(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "station");
  verb->require_subcommand(1);
  on_call<InviteOptions>(*add_verb(*verb, context, "invite"), context, invite);
  CLI::App* joining = add_verb(*verb, context, "join");
  auto options = on_call<JoinOptions>(*joining, context, join);
  add_option(*joining, context, "--station", options->station);
}

}  // namespace loadlight::cli
