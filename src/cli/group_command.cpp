#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/incident_answers.h"
#include "cli/lot_answers.h"
#include "loadlight/app/group_view.h"

namespace loadlight::cli {
namespace {

using core::Failure;
using core::Result;

// ---- what an administrator of the database does

struct AdminOptions final {
  std::string as;
  std::string name;
  std::string role;
};

int answer_done(const Context& context, const Result<void>& done, const char* key, const AdminOptions& options) {
  if (!done) return context.fail(done.failure());
  context.answer({{"done", true}}, context.text(key, {{"office", options.name}, {"role", options.role}}));
  return context.delivered(kDone);
}

int prepare(const Context& context, const AdminOptions& options) {
  return answer_done(context, context.world.group.prepare(options.as), "line.group-prepared", options);
}

int admit(const Context& context, const AdminOptions& options) {
  return answer_done(context, context.world.group.admit_office(options.as, options.name, options.role),
                     "line.group-admitted", options);
}

int admit_lead(const Context& context, const AdminOptions& options) {
  return answer_done(context, context.world.group.admit_lead(options.as, options.role), "line.group-led", options);
}

// ---- what a lead of the group sees

struct ViewOptions final {
  bool failed = false;
  std::string lot;
  std::string why;
};

int offices(const Context& context, const ViewOptions&) {
  const auto names = context.world.group.offices(context.office_folder);
  if (!names) return context.fail(names.failure());
  for (const std::string& name : *names) context.answer({{"office", name}}, name);
  if (names->empty()) context.tell(context.text("group.no-offices"));
  return context.delivered(kDone);
}

// One that could not be read, named like the others.
void answer_failure(const Context& context, const app::OfficeFailure& each) {
  const std::string which = code(each.failure.code);
  const std::string said_of_it = context.text("failure." + which + ".text", each.failure.details);
  const std::string advice = context.text("failure." + which + ".action", each.failure.details);
  if (context.json) {
    context.answer({{"office", each.office}, {"error", which}, {"text", said_of_it}, {"action", advice}}, "");
  } else {
    context.tell(line_of_office(each.office, said_of_it + "\n" + advice));
  }
}

// `work` walks the group and hands back what failed.
int walk(const Context& context, const std::function<app::OfficeFailures(const app::Group&)>& work) {
  const std::string& address = context.office_folder;
  const auto names = context.world.group.offices(address);
  if (!names) return context.fail(names.failure());
  if (names->empty()) context.tell(context.text("group.no-offices"));
  const app::Group group{*names,
                         [&](const std::string& office) { return context.world.group.open_office(address, office); },
                         context.world.open_zone, context.world.clock};
  const app::OfficeFailures failures = work(group);
  for (const app::OfficeFailure& each : failures) answer_failure(context, each);
  return context.delivered(failures.empty() ? kDone : kFailed);
}

void answer_due(const Context& context, const std::string& office, const core::DueItem& item) {
  const std::string kind = code(item.kind);
  context.answer(of_office(office, {{"kind", kind}, {"subject", item.subject}, {"when", item.when.iso()}, {"overdue", item.overdue}}),
                 line_of_office(office, context.text(item.overdue ? "line.due-late" : "line.due",
                                                     {{"date", item.when.iso()},
                                                      {"what", context.text("due." + kind)},
                                                      {"subject", item.subject}})));
}

int due(const Context& context, const ViewOptions&) {
  return walk(context, [&](const app::Group& group) {
    return app::due_in_group(group, [&](const std::string& office, const std::vector<core::DueItem>& items) {
      for (const core::DueItem& item : items) answer_due(context, office, item);
    });
  });
}

int incidents(const Context& context, const ViewOptions&) {
  return walk(context, [&](const app::Group& group) {
    return app::incidents_in_group(group, [&](const std::string& office, const std::vector<core::Incident>& open) {
      for (const core::Incident& each : open) {
        context.answer(of_office(office, incident_json(each)), line_of_office(office, incident_line(context, each)));
      }
    });
  });
}

void answer_load_of(const Context& context, const std::string& office, const core::Load& load) {
  const std::string state = code(load.state), day = load.process_date ? load.process_date->iso() : "";
  context.answer(of_office(office, {{"sterilizer", load.name.sterilizer},
                                    {"load", load.name.text()},
                                    {"state", state},
                                    {"program", load.program},
                                    {"process_date", day.empty() ? Json(nullptr) : Json(day)}}),
                 line_of_office(office, context.text("line.group-load",
                                                     said({{"load", load.name.text()},
                                                           {"state", context.text("detail.state." + state)},
                                                           {"date", day}}))));
}

int loads(const Context& context, const ViewOptions& options) {
  const auto which = options.failed ? app::GroupLoads::Failed : app::GroupLoads::Undecided;
  return walk(context, [&](const app::Group& group) {
    return app::loads_in_group(group, which, [&](const std::string& office, const std::vector<core::Load>& found) {
      for (const core::Load& load : found) answer_load_of(context, office, load);
    });
  });
}

void answer_lot_of(const Context& context, const std::string& office, const app::LotInOffice& each) {
  const std::string kind = code(each.lot.kind);
  context.answer(of_office(office, {{"lot", each.lot.lot},
                                    {"kind", kind},
                                    {"name", each.lot.name},
                                    {"expires", each.lot.expires.iso()},
                                    {"recalled", each.recalled}}),
                 line_of_office(office, context.text(each.recalled ? "line.group-lot-recalled" : "line.group-lot",
                                                     {{"lot", each.lot.lot},
                                                      {"name", each.lot.name},
                                                      {"expires", each.lot.expires.iso()}})));
}

int consumables(const Context& context, const ViewOptions&) {
  return walk(context, [&](const app::Group& group) {
    return app::consumables_in_group(group, [&](const std::string& office, const std::vector<app::LotInOffice>& lots) {
      for (const app::LotInOffice& each : lots) answer_lot_of(context, office, each);
    });
  });
}

int recall_lot(const Context& context, const ViewOptions& options) {
  return walk(context, [&](const app::Group& group) {
    return app::recall_lot_in_group(
        group, {context.operator_code, options.lot, options.why},
        [&](const std::string& office, const app::LotRecall& recall) { answer_lot(context, recall, office); });
  });
}

// ---- verbs

std::shared_ptr<AdminOptions> add_admin(CLI::App& group, Context& context, const char* name,
                                        int (*work)(const Context&, const AdminOptions&)) {
  CLI::App* verb = add_verb(group, context, name);
  auto options = on_call<AdminOptions>(*verb, context, work);
  add_option(*verb, context, "--as", options->as)->required();
  return options;
}

}  // namespace

void add_group(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "group");
  verb->require_subcommand(1);
  add_admin(*verb, context, "prepare", prepare);
  auto admitting = add_admin(*verb, context, "admit", admit);
  CLI::App& admit_verb = *verb->get_subcommand("admit");
  add_option(admit_verb, context, "--name", admitting->name)->required();
  add_option(admit_verb, context, "--role", admitting->role)->required();
  auto leading = add_admin(*verb, context, "admit-lead", admit_lead);
  add_option(*verb->get_subcommand("admit-lead"), context, "--role", leading->role)->required();
  on_call<ViewOptions>(*add_verb(*verb, context, "offices"), context, offices);
  on_call<ViewOptions>(*add_verb(*verb, context, "due"), context, due);
  on_call<ViewOptions>(*add_verb(*verb, context, "incidents"), context, incidents);
  CLI::App* load_verb = add_verb(*verb, context, "loads");
  auto looking = on_call<ViewOptions>(*load_verb, context, loads);
  add_flag(*load_verb, context, "--failed", looking->failed);
  on_call<ViewOptions>(*add_verb(*verb, context, "consumables"), context, consumables);
  CLI::App* lot_verb = add_verb(*verb, context, "recall-lot");
  auto recalling = on_call<ViewOptions>(*lot_verb, context, recall_lot);
  add_option(*lot_verb, context, "lot", recalling->lot)->required();
  add_option(*lot_verb, context, "--why", recalling->why)->required();
}

}  // namespace loadlight::cli
