#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/bring_queued.h"
#include "loadlight/app/invite_station.h"
#include "loadlight/app/keep_copy.h"
#include "loadlight/app/queued_acts.h"

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

struct CopyOptions final {};

int copy(const Context& context, const CopyOptions&) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto reply = app::take_copy((*office)->ports);
  if (!reply) return context.fail(reply.failure());
  const auto moment = [&](core::Instant at) { return (*office)->ports.zone.local_text(at); };
  context.answer({{"minutes", reply->minutes}, {"taken", reply->taken ? Json(core::to_text(*reply->taken)) : Json(nullptr)}},
                 reply->taken ? context.text("line.station-copy", {{"moment", moment(*reply->taken)},
                                                                   {"minutes", std::to_string(reply->minutes)}})
                              : context.text("line.station-no-copy"));
  return context.delivered(kDone);
}

struct BringOptions final {
  std::string old_place;
};

int bring(const Context& context, const BringOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto brought = app::bring_queued(context.world, (*office)->ports, options.old_place);
  if (!brought) return context.fail(brought.failure());
  context.answer({{"from", options.old_place}, {"written", brought->written}, {"contradicted", brought->contradicted.size()}},
                 context.text("line.station-brought", {{"count", std::to_string(brought->written)}}));
  context.tell_settled((*office)->ports, {0, brought->contradicted});
  return context.delivered(kDone);
}

struct OpeningsOptions final {};

int openings(const Context& context, const OpeningsOptions&) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto list = app::contradicted_openings((*office)->ports);
  if (!list) return context.fail(list.failure());
  for (const app::ContradictedOpening& each : *list) {
    Json reasons = Json::array();
    for (const core::Reason reason : each.reasons) reasons.push_back(std::string{core::to_text(reason)});
    context.answer({{"package", each.package},
                    {"at", core::to_text(each.at)},
                    {"operator", each.operator_code},
                    {"visit", each.visit.empty() ? Json(nullptr) : Json(each.visit)},
                    {"reasons", reasons}},
                   context.opening_text((*office)->ports, each));
  }
  if (list->empty()) context.tell(context.text("station.no-openings"));
  return context.delivered(kDone);
}

}  // namespace

void add_station(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "station");
  verb->require_subcommand(1);
  on_call<InviteOptions>(*add_verb(*verb, context, "invite"), context, invite);
  on_call<CopyOptions>(*add_verb(*verb, context, "copy"), context, copy);
  on_call<OpeningsOptions>(*add_verb(*verb, context, "openings"), context, openings);
  CLI::App* bringing = add_verb(*verb, context, "bring");
  add_option(*bringing, context, "old-place", on_call<BringOptions>(*bringing, context, bring)->old_place)->required();
  CLI::App* joining = add_verb(*verb, context, "join");
  auto options = on_call<JoinOptions>(*joining, context, join);
  add_option(*joining, context, "--station", options->station);
}

}  // namespace loadlight::cli
