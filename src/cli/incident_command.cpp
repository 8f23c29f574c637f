#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/incident_answers.h"
#include "loadlight/app/incidents.h"
#include "loadlight/app/print_recall.h"

namespace loadlight::cli {
namespace {

using core::Result;

// ---- verbs

struct NumberOptions final {
  int incident = 0;
};

int list(const Context& context, const NumberOptions&) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto incidents = app::list_incidents((*office)->ports);
  if (!incidents) return context.fail(incidents.failure());
  for (const core::Incident& incident : *incidents) {
    context.answer(incident_json(incident), incident_line(context, incident));
  }
  return context.delivered(kDone);
}

Json obstacles_json(const std::vector<core::Obstacle>& obstacles) {
  Json list = Json::array();
  for (const core::Obstacle& obstacle : obstacles) {
    list.push_back(
        {{"code", code(obstacle.kind)}, {"step", std::string{obstacle.step}}, {"count", obstacle.count}});
  }
  return list;
}

Json view_json(const app::IncidentView& view) {
  Json object = incident_json(view.incident);
  object["steps"] = Json::array();
  for (const core::StepStatus& step : view.steps) {
    Json findings = Json::array();
    for (const core::StepFinding& finding : core::findings_of(step.code))
      findings.push_back(std::string{finding.code});
    object["steps"].push_back({{"step", std::string{step.code}},
                               {"state", code(step.state)},
                               {"finding", step.finding.empty() ? Json(nullptr) : Json(step.finding)},
                               {"missing", step.missing},
                               {"findings", findings},
                               {"source", std::string{step.source}}});
  }
  object["to_return"] = obstacles_json(view.to_return);
  object["to_close"] = obstacles_json(view.to_close);
  object["loads"] = Json::array();
  for (const core::Load& load : view.loads) object["loads"].push_back(load.name.text());
  object["suspects"] = view.suspects.size();
  object["earlier_clears"] = Json::array();
  for (const app::EarlierClear& clear : view.earlier_clears) {
    object["earlier_clears"].push_back({{"package", clear.package.text()},
                                        {"at", core::to_text(clear.at)},
                                        {"operator", clear.operator_code}});
  }
  return object;
}

std::string step_line(const Context& context, const core::StepStatus& step) {
  std::string findings;
  for (const core::StepFinding& finding : core::findings_of(step.code)) {
    findings += (findings.empty() ? "" : ", ") + std::string{finding.code};
  }
  const bool open = step.state == core::StepState::Due;
  return context.text(
      "line.step",
      said({{"state", context.text("step-state." + code(step.state))},
            {"code", std::string{step.code}},
            {"text", context.text("incident.step." + std::string{step.code})},
            {"finding", step.finding.empty() ? "" : context.text("incident.finding." + step.finding)},
            {"findings", open ? findings : ""}}));
}

std::string obstacle_line(const Context& context, const core::Obstacle& obstacle) {
  const std::string step =
      obstacle.step.empty() ? "" : context.text("incident.step." + std::string{obstacle.step});
  return context.text("incident.obstacle." + code(obstacle.kind),
                      {{"step", step}, {"count", std::to_string(obstacle.count)}});
}

void tell_view(const Context& context, const app::IncidentView& view) {
  std::string text = incident_line(context, view.incident);
  if (!view.loads.empty()) {
    text +=
        "\n  " + context.text("line.incident-range", {{"first", view.loads.front().name.text()},
                                                      {"last", view.loads.back().name.text()},
                                                      {"count", std::to_string(view.loads.size())},
                                                      {"packages", std::to_string(view.suspects.size())}});
  }
  for (const core::StepStatus& step : view.steps) {
    if (step.state != core::StepState::NotNeeded) text += "\n  " + step_line(context, step);
  }
  for (const core::Obstacle& obstacle : view.to_close) text += "\n  - " + obstacle_line(context, obstacle);
  for (const app::EarlierClear& clear : view.earlier_clears) {
    text += "\n  * " + context.text("line.earlier-clear",
                                    {{"package", clear.package.grouped()}, {"at", core::to_text(clear.at)}});
  }
  context.answer({}, text);
}

int show(const Context& context, const NumberOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto view = app::show_incident((*office)->ports, options.incident);
  if (!view) return context.fail(view.failure());
  if (context.json) {
    context.answer(view_json(*view), "");
  } else {
    tell_view(context, *view);
  }
  return context.delivered(kDone);
}

int answer_incident(const Context& context, const Result<core::Incident>& incident) {
  if (!incident) return context.fail(incident.failure());
  context.answer(incident_json(*incident), incident_line(context, *incident));
  return kDone;
}

struct StepOptions final {
  int incident = 0;
  std::string step;
  std::string finding;
  std::string note;
};

int step(const Context& context, const StepOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return answer_incident(
      context, app::do_step((*office)->ports, {context.operator_code, options.incident, options.step,
                                               options.finding, options.note}));
}

struct AccountOptions final {
  int incident = 0;
  std::string package;
  std::string as;
  std::string why;
};

int account(const Context& context, const AccountOptions& options) {
  const auto disposition = parse_term<core::Disposition>("as", options.as);
  if (!disposition) return context.fail(disposition.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto suspect = app::account_for((*office)->ports, {context.operator_code, options.incident,
                                                           options.package, *disposition, options.why});
  if (!suspect) return context.fail(suspect.failure());
  context.answer(suspect_json(*suspect), suspect_line(context, *suspect));
  return kDone;
}

struct NarrowOptions final {
  int incident = 0;
  std::string first;
  std::string last;
  std::string why;
};

int narrow(const Context& context, const NarrowOptions& options) {
  const auto first = parse_load(options.first);
  if (!first) return context.fail(first.failure());
  const auto last = parse_load(options.last);
  if (!last) return context.fail(last.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return answer_incident(
      context, app::narrow_range((*office)->ports,
                                 {context.operator_code, options.incident, *first, *last, options.why}));
}

struct CloseOptions final {
  int incident = 0;
  std::string note;
};

int close(const Context& context, const CloseOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return answer_incident(context, app::close_incident((*office)->ports, {context.operator_code,
                                                                         options.incident, options.note}));
}

struct RecallOptions final {
  int incident = 0;
  std::string pdf;
  std::string csv;
};

int recall(const Context& context, const RecallOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto incident =
      app::each_suspect((*office)->ports, options.incident, [&](const app::Suspect& suspect) {
        context.answer(suspect_json(suspect), suspect_line(context, suspect));
      });
  if (!incident) return context.fail(incident.failure());
  if (!options.csv.empty()) {
    const auto csv = app::recall_csv((*office)->ports, options.incident);
    if (!csv) return context.fail(csv.failure());
    if (const auto ok = context.spare_the_office(options.csv); !ok) return context.fail(ok.failure());
    if (const auto ok = context.world.files.write(options.csv, *csv); !ok) return context.fail(ok.failure());
    context.tell(context.text("line.written", {{"path", options.csv}}));
  }
  if (!options.pdf.empty()) {
    const int printed = print_notice(context, **office, options.incident, options.pdf);
    if (printed != kDone) return printed;
  }
  return context.delivered(kDone);
}

template <class Options>
std::shared_ptr<Options> add_part(CLI::App& parent, Context& context, const char* name,
                                  int (*work)(const Context&, const Options&)) {
  CLI::App* verb = add_verb(parent, context, name);
  auto options = on_call<Options>(*verb, context, work);
  add_option(*verb, context, "incident", options->incident)->required()->check(CLI::PositiveNumber);
  return options;
}

}  // namespace

void add_incident(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "incident");
  verb->require_subcommand(1);
  on_call<NumberOptions>(*add_verb(*verb, context, "list"), context, list);
  add_part<NumberOptions>(*verb, context, "show", show);
  auto stepping = add_part<StepOptions>(*verb, context, "step", step);
  CLI::App& step_verb = *verb->get_subcommand("step");
  add_option(step_verb, context, "step", stepping->step)->required();
  add_option(step_verb, context, "--finding", stepping->finding)->required();
  add_option(step_verb, context, "--note", stepping->note);
  auto accounting = add_part<AccountOptions>(*verb, context, "account", account);
  CLI::App& account_verb = *verb->get_subcommand("account");
  add_option(account_verb, context, "package", accounting->package)->required();
  add_option(account_verb, context, "--as", accounting->as)->required();
  add_option(account_verb, context, "--why", accounting->why);
  auto narrowing = add_part<NarrowOptions>(*verb, context, "narrow", narrow);
  CLI::App& narrow_verb = *verb->get_subcommand("narrow");
  add_option(narrow_verb, context, "--first", narrowing->first)->required();
  add_option(narrow_verb, context, "--last", narrowing->last)->required();
  add_option(narrow_verb, context, "--why", narrowing->why)->required();
  auto closing = add_part<CloseOptions>(*verb, context, "close", close);
  add_option(*verb->get_subcommand("close"), context, "--note", closing->note);

  CLI::App* calling = add_verb(app, context, "recall");
  auto options = on_call<RecallOptions>(*calling, context, recall);
  add_option(*calling, context, "--incident", options->incident)->required()->check(CLI::PositiveNumber);
  add_option(*calling, context, "--pdf", options->pdf);
  add_option(*calling, context, "--csv", options->csv);
}

}  // namespace loadlight::cli
