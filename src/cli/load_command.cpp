#include <fmt/format.h>

#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/load_verbs.h"
#include "loadlight/app/load_life.h"
#include "loadlight/app/release_load.h"

namespace loadlight::cli {
namespace {

using core::Result;

struct OpenOptions final {
  std::string sterilizer;
  std::string program;
  std::string purpose = "process";
  int number = 0;
  int incident = 0;
};

int open(const Context& context, const OpenOptions& options) {
  const auto purpose = parse_term<core::LoadPurpose>("purpose", options.purpose);
  if (!purpose) return context.fail(purpose.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  app::OpenLoadRequest request{context.operator_code, options.sterilizer, options.program, *purpose, {}, {}};
  if (options.number != 0) request.number = options.number;
  if (options.incident != 0) request.incident = options.incident;
  return answer_step(context, app::open_load((*office)->ports, request));
}

struct FillOptions final {
  std::string load;
  std::vector<std::string> packages;
  std::vector<std::string> unwrapped;
};

// "CODE" or "CODE:COUNT".
Result<core::LooseItems> parse_loose(const std::string& text) {
  const auto colon = text.find(':');
  core::LooseItems items{text.substr(0, colon), 1};
  if (colon == std::string::npos) return items;
  const auto count = parse_cells(text.substr(colon + 1));
  if (!count || count->size() != 1) return bad_value("unwrapped", text);
  items.count = count->front();
  return items;
}

int add(const Context& context, const FillOptions& options) {
  app::LoadPackagesRequest request{context.operator_code, {}, options.packages, {}};
  for (const std::string& text : options.unwrapped) {
    const auto items = parse_loose(text);
    if (!items) return context.fail(items.failure());
    request.loose_items.push_back(*items);
  }
  if (options.packages.empty() && options.unwrapped.empty()) {
    return context.fail({core::FailureCode::BadPackageId, {{"given", ""}}, {}});
  }
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    request.load = name;
    return answer_step(context, app::add_to_load(ports, request));
  });
}

int remove(const Context& context, const FillOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    return answer_step(context,
                       app::remove_from_load(ports, {context.operator_code, name, options.packages, {}}));
  });
}

struct LoadOptions final {
  std::string load;
};

int start(const Context& context, const LoadOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const auto reply = app::start_load(ports, {context.operator_code, name});
    if (!reply) return context.fail(reply.failure());
    if (reply->daily_test == core::DailyTest::Missing) {
      context.tell(context.text("load.daily-test-missing", {{"sterilizer", name.sterilizer}}));
    }
    return answer_step(context, reply->load);
  });
}

struct FinishOptions final {
  std::string load;
  std::string aborted;
  int counter = 0;
};

int finish(const Context& context, const FinishOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    app::FinishLoadRequest request{context.operator_code, name, options.aborted, {}};
    if (options.counter != 0) request.counter = options.counter;
    const auto reply = app::finish_load(ports, request);
    if (!reply) return context.fail(reply.failure());
    if (reply->counter_gap > 0) {
      context.tell(context.text("load.counter-gap", {{"count", std::to_string(reply->counter_gap)}}));
    }
    return answer_ended(context, ports, reply->load, {{"counter_gap", reply->counter_gap}});
  });
}

struct ReleaseOptions final {
  std::string load;
  std::string emergency;
  std::string second;
};

int release(const Context& context, const ReleaseOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const auto reply =
        app::release_load(ports, {context.operator_code, name, options.emergency, options.second});
    if (!reply) return context.fail(reply.failure());
    answer_load(context, reply->load, reply->verdict);
    if (reply->load.state == core::LoadState::Released) return kDone;
    return exit_status(reply->verdict.outcome());
  });
}

struct WhyOptions final {
  std::string load;
  std::string why;
};

int revoke(const Context& context, const WhyOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const auto reply = app::revoke_release(ports, {context.operator_code, name, options.why});
    if (!reply) return context.fail(reply.failure());
    Json opened = Json::array();
    for (const core::Package& package : reply->opened_already) opened.push_back(package.id.text());
    return answer_step(context, reply->load, {{"opened_already", opened}});
  });
}

Json readings_json(const core::Load& load) {
  if (!load.readings) return nullptr;
  const core::Readings& r = *load.readings;
  return {{"low", r.low_celsius},
          {"high", r.high_celsius},
          {"minutes", r.minutes},
          {"pressure", r.pressure_kpa},
          {"drying", r.drying_minutes ? Json(*r.drying_minutes) : Json(nullptr)}};
}

Json criteria_json(const std::vector<core::CriterionResult>& criteria) {
  Json list = Json::array();
  for (const core::CriterionResult& line : criteria) {
    list.push_back({{"criterion", std::string{line.code}},
                    {"standing", std::string{core::to_text(line.standing)}},
                    {"measured", line.measured ? Json(*line.measured) : Json(nullptr)},
                    {"limit", line.limit},
                    {"at_least", line.at_least},
                    {"margin", line.margin ? Json(*line.margin) : Json(nullptr)},
                    {"unit", std::string{line.unit}},
                    {"source", std::string{line.source}}});
  }
  return list;
}

Json runs_json(const app::LoadView& view) {
  Json list = Json::array();
  for (const core::BiologicalRun& run : view.biological_runs) {
    list.push_back({{"number", run.number},
                    {"lot", run.lot},
                    {"control_lot", run.control_lot},
                    {"reader", std::string{core::to_text(run.reader)}},
                    {"due", core::to_text(run.due_at)}});
  }
  return list;
}

// Information, never the reason to release; with its convention, of which there are several.
Json lethality_json(const app::LoadView& view) {
  if (!view.log) return nullptr;
  return {{"minutes", view.log->f0_minutes},
          {"exposure_minutes", view.log->exposure ? Json(view.log->exposure->f0_minutes) : Json(nullptr)},
          {"reference_celsius", view.log->settings.f0.reference_celsius},
          {"z_kelvin", view.log->settings.f0.z_kelvin}};
}

Json biologicals_json(const app::LoadView& view) {
  Json list = Json::array();
  for (const core::BiologicalReading& b : view.biologicals) {
    list.push_back({{"lot", b.lot},
                    {"test", std::string{core::to_text(b.test)}},
                    {"control", std::string{core::to_text(b.control)}},
                    {"control_lot", b.control_lot},
                    {"read", core::to_text(b.read_at)},
                    {"why", b.why}});
  }
  return list;
}

std::string criterion_line(const Context& context, const core::CriterionResult& line) {
  const auto shown = [](double value) {
    std::string text = fmt::format("{:.2f}", value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
  };
  return context.text("line.criterion",
                      {{"criterion", context.text("criterion." + std::string{line.code})},
                       {"measured", line.measured ? shown(*line.measured) : "-"},
                       {"bound", context.text(line.at_least ? "criterion.at-least" : "criterion.at-most")},
                       {"limit", shown(line.limit)},
                       {"unit", std::string{line.unit}},
                       {"standing", context.text("standing." + std::string{core::to_text(line.standing)})}});
}

Json view_json(const app::LoadView& view) {
  Json packages = Json::array();
  for (const core::Package& package : view.packages) {
    packages.push_back({{"package", package.id.text()},
                        {"state", std::string{core::to_text(package.state)}},
                        {"contents", package.contents}});
  }
  Json loose = Json::array();
  for (const core::LooseItems& line : view.load.loose_items) {
    loose.push_back({{"contents", line.contents}, {"count", line.count}});
  }
  Json indicators = Json::array();
  for (const core::IndicatorReading& i : view.indicators) {
    indicators.push_back({{"place", std::string{core::to_text(i.place)}},
                          {"type", i.type},
                          {"lot", i.lot},
                          {"expires", i.expires.iso()},
                          {"result", i.passed ? "pass" : "fail"},
                          {"package", i.package ? Json(i.package->text()) : Json(nullptr)}});
  }
  return {{"program", view.load.program},
          {"purpose", std::string{core::to_text(view.load.purpose)}},
          {"process_date", date_json(view.load.process_date)},
          {"counter", optional_number(view.load.machine_counter)},
          {"readings", readings_json(view.load)},
          {"packages", packages},
          {"unwrapped", loose},
          {"indicators", indicators},
          {"criteria", criteria_json(view.criteria)},
          {"biological_runs", runs_json(view)},
          {"biologicals", biologicals_json(view)},
          {"f0", lethality_json(view)},
          {"profile", view.profile}};
}

void tell_more(const Context& context, const app::LoadView& view) {
  if (view.log) {
    context.answer(
        {},
        context.text("line.f0", {{"minutes", fmt::format("{:.1f}", view.log->f0_minutes)},
                                 {"reference", fmt::format("{}", view.log->settings.f0.reference_celsius)},
                                 {"z", fmt::format("{}", view.log->settings.f0.z_kelvin)}}));
  }
  for (const core::BiologicalRun& run : view.biological_runs) {
    context.answer({}, context.text("line.biological-run", {{"number", std::to_string(run.number)},
                                                            {"load", run.load.text()},
                                                            {"lot", run.lot},
                                                            {"due", core::to_text(run.due_at)}}));
  }
}

int show(const Context& context, const LoadOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const auto view = app::show_load(ports, name);
    if (!view) return context.fail(view.failure());
    answer_load(context, view->load, view->verdict, view_json(*view));
    if (!context.json) {
      for (const core::CriterionResult& line : view->criteria)
        context.answer({}, criterion_line(context, line));
      tell_more(context, *view);
      for (const core::Package& package : view->packages) answer_package(context, package);
    }
    return kDone;
  });
}

void add_filling(CLI::App& verb, Context& context) {
  auto opening = add_step<OpenOptions>(verb, context, "open", open);
  CLI::App& open_verb = *verb.get_subcommand("open");
  add_option(open_verb, context, "--sterilizer", opening->sterilizer)->required();
  add_option(open_verb, context, "--program", opening->program)->required();
  add_option(open_verb, context, "--purpose", opening->purpose);
  add_option(open_verb, context, "--number", opening->number);
  add_option(open_verb, context, "--incident", opening->incident)->check(CLI::PositiveNumber);
  auto adding = add_step<FillOptions>(verb, context, "add", add);
  add_option(*verb.get_subcommand("add"), context, "packages", adding->packages);
  add_option(*verb.get_subcommand("add"), context, "--unwrapped", adding->unwrapped);
  auto removing = add_step<FillOptions>(verb, context, "remove", remove);
  add_option(*verb.get_subcommand("remove"), context, "packages", removing->packages)->required();
  add_step<LoadOptions>(verb, context, "start", start);
  auto finishing = add_step<FinishOptions>(verb, context, "finish", finish);
  add_option(*verb.get_subcommand("finish"), context, "--aborted", finishing->aborted);
  add_option(*verb.get_subcommand("finish"), context, "--counter", finishing->counter)
      ->check(CLI::Range(1, 999999999));
}

}  // namespace

void add_load(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "load");
  verb->require_subcommand(1);
  add_filling(*verb, context);
  add_evidence_verbs(*verb, context);
  add_report_verbs(*verb, context);
  auto releasing = add_step<ReleaseOptions>(*verb, context, "release", release);
  add_option(*verb->get_subcommand("release"), context, "--emergency", releasing->emergency);
  add_option(*verb->get_subcommand("release"), context, "--second", releasing->second);
  auto revoking = add_step<WhyOptions>(*verb, context, "revoke", revoke);
  add_option(*verb->get_subcommand("revoke"), context, "--why", revoking->why)->required();
  add_step<LoadOptions>(*verb, context, "show", show);
}

}  // namespace loadlight::cli
