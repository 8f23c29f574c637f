// The verb below "consumable" that calls a lot back.
#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/incident_answers.h"
#include "cli/lot_answers.h"

namespace loadlight::cli {
namespace {

Json numbers_json(const std::vector<int>& numbers) {
  Json list = Json::array();
  for (const int number : numbers) list.push_back(number);
  return list;
}

Json lot_json(const app::LotRecall& recall) {
  return {{"lot", recall.lot},
          {"recalled", core::to_text(recall.recalled_at)},
          {"known", recall.known},
          {"added", recall.added},
          {"loads", recall.loads.size()},
          {"packages", recall.packages.size()},
          {"incidents", numbers_json(recall.incidents)}};
}

std::string lot_line(const Context& context, const app::LotRecall& recall) {
  if (!recall.known) return context.text("line.lot-unknown", {{"lot", recall.lot}});
  return context.text("line.lot-recalled", {{"lot", recall.lot},
                                            {"loads", std::to_string(recall.loads.size())},
                                            {"packages", std::to_string(recall.packages.size())},
                                            {"incidents", std::to_string(recall.incidents.size())}});
}

struct LotOptions final {
  std::string lot;
  std::string why;
};

int recall(const Context& context, const LotOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto done = app::recall_lot((*office)->ports, {context.operator_code, options.lot, options.why});
  if (!done) return context.fail(done.failure());
  answer_lot(context, *done);
  return context.delivered(kDone);
}

}  // namespace

Json of_office(const std::string& office, const Json& object) {
  if (office.empty()) return object;
  Json named{{"office", office}};
  named.update(object);
  return named;
}

std::string line_of_office(const std::string& office, const std::string& line) {
  return office.empty() ? line : office + "  " + line;
}

void answer_lot(const Context& context, const app::LotRecall& recall, const std::string& office) {
  for (const app::AffectedLoad& each : recall.loads) {
    const std::string load = each.load.name.text(), state = code(each.load.state);
    context.answer(of_office(office, {{"load", load}, {"state", state}, {"incident", each.incident}}),
                   line_of_office(office, context.text("line.lot-load",
                                                       {{"load", load},
                                                        {"state", context.text("detail.state." + state)},
                                                        {"incident", std::to_string(each.incident)}})));
  }
  for (const app::Suspect& suspect : recall.packages) {
    context.answer(of_office(office, suspect_json(suspect)), line_of_office(office, suspect_line(context, suspect)));
  }
  context.answer(of_office(office, lot_json(recall)), line_of_office(office, lot_line(context, recall)));
}

void add_lot_recall(CLI::App& consumable_verb, Context& context) {
  CLI::App* verb = add_verb(consumable_verb, context, "recall");
  auto options = on_call<LotOptions>(*verb, context, recall);
  verb->add_option("code,--code", options->lot, context.text("help.option.lot"))->required();
  add_option(*verb, context, "--why", options->why)->required();
}

}  // namespace loadlight::cli
