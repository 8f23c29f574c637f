#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/load_evidence.h"
#include "loadlight/app/load_life.h"
#include "loadlight/app/release_load.h"

namespace loadlight::cli {
namespace {

using core::Result;

// Opens the office and runs a use case about one load.
template <class Work>
int with_load(const Context& context, const std::string& text, Work work) {
  const auto name = parse_load(text);
  if (!name) return context.fail(name.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return work((*office)->ports, *name);
}

// A load that took a step: where it stands, and what that says of its packages.
int answer_step(const Context& context, const Result<core::Load>& load, Json more = Json::object()) {
  if (!load) return context.fail(load.failure());
  answer_load(context, *load, core::verdict_of_state(load->state), std::move(more), Tell::State);
  return kDone;
}

// A load that has ended: what still speaks against its release.
int answer_ended(const Context& context, const app::Ports& ports, const Result<core::Load>& load,
                 Json more = Json::object()) {
  if (!load) return context.fail(load.failure());
  const auto view = app::show_load(ports, load->name);
  if (!view) return context.fail(view.failure());
  answer_load(context, view->load, view->verdict, std::move(more));
  return kDone;
}

struct OpenOptions final {
  std::string sterilizer;
  std::string program;
  std::string purpose = "process";
  int number = 0;
};

int open(const Context& context, const OpenOptions& options) {
  const auto purpose = parse_term<core::LoadPurpose>("purpose", options.purpose);
  if (!purpose) return context.fail(purpose.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  app::OpenLoadRequest request{context.operator_code, options.sterilizer, options.program, *purpose, {}};
  if (options.number != 0) request.number = options.number;
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
    return answer_step(context, app::start_load(ports, {context.operator_code, name}));
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

struct ReadingOptions final {
  std::string load;
  double low = 0;
  double high = 0;
  double minutes = 0;
  double pressure = 0;
  double drying = -1;
  std::string why;
};

int readings(const Context& context, const ReadingOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    core::Readings read{options.low, options.high, options.minutes, options.pressure, {}};
    if (options.drying >= 0) read.drying_minutes = options.drying;
    return answer_ended(context, ports,
                        app::record_readings(ports, {context.operator_code, name, read, options.why}));
  });
}

struct IndicatorOptions final {
  std::string load;
  std::string place = "external";
  int type = 0;
  std::string lot;
  std::string expires;
  std::string result;
  std::string package;
};

int indicator(const Context& context, const IndicatorOptions& options) {
  const auto place = parse_term<core::IndicatorPlace>("place", options.place);
  if (!place) return context.fail(place.failure());
  const auto expires = parse_date("expires", options.expires);
  if (!expires) return context.fail(expires.failure());
  if (options.result != "pass" && options.result != "fail") {
    return context.fail(bad_value("result", options.result + " (pass, fail)"));
  }
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    app::IndicatorRequest request{context.operator_code,    name, *place, options.type, options.lot, *expires,
                                  options.result == "pass", {}};
    if (!options.package.empty()) request.package = options.package;
    const auto reply = app::record_indicator(ports, request);
    if (!reply) return context.fail(reply.failure());
    Json more = Json::object();
    if (reply->withdrawn) more["withdrawn"] = reply->withdrawn->id.text();
    return answer_ended(context, ports, reply->load, std::move(more));
  });
}

struct BiologicalOptions final {
  std::string load;
  std::string lot;
  std::string test;
  std::string control;
  std::string control_lot;
};

int biological(const Context& context, const BiologicalOptions& options) {
  const auto test = parse_term<core::BiologicalTest>("test", options.test);
  if (!test) return context.fail(test.failure());
  const auto control = parse_term<core::BiologicalControl>("control", options.control);
  if (!control) return context.fail(control.failure());
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const auto reply = app::record_biological(
        ports, {context.operator_code, name, options.lot, *test, *control, options.control_lot});
    if (!reply) return context.fail(reply.failure());
    Json more = Json::object();
    if (reply->incident) more["incident"] = reply->incident->number;
    return answer_ended(context, ports, reply->load, std::move(more));
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
          {"indicators", indicators}};
}

int show(const Context& context, const LoadOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const auto view = app::show_load(ports, name);
    if (!view) return context.fail(view.failure());
    answer_load(context, view->load, view->verdict, view_json(*view));
    if (!context.json) {
      for (const core::Package& package : view->packages) answer_package(context, package);
    }
    return kDone;
  });
}

template <class Options>
std::shared_ptr<Options> add_step(CLI::App& parent, Context& context, const char* name,
                                  int (*work)(const Context&, const Options&)) {
  CLI::App* verb = add_verb(parent, context, name);
  auto options = on_call<Options>(*verb, context, work);
  if constexpr (requires { options->load; }) add_option(*verb, context, "load", options->load)->required();
  return options;
}

void add_filling(CLI::App& verb, Context& context) {
  auto opening = add_step<OpenOptions>(verb, context, "open", open);
  CLI::App& open_verb = *verb.get_subcommand("open");
  add_option(open_verb, context, "--sterilizer", opening->sterilizer)->required();
  add_option(open_verb, context, "--program", opening->program)->required();
  add_option(open_verb, context, "--purpose", opening->purpose);
  add_option(open_verb, context, "--number", opening->number);
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

void add_evidence(CLI::App& verb, Context& context) {
  auto reading = add_step<ReadingOptions>(verb, context, "readings", readings);
  CLI::App& read_verb = *verb.get_subcommand("readings");
  add_option(read_verb, context, "--low", reading->low)->required();
  add_option(read_verb, context, "--high", reading->high)->required();
  add_option(read_verb, context, "--minutes", reading->minutes)->required();
  add_option(read_verb, context, "--pressure", reading->pressure)->required();
  add_option(read_verb, context, "--drying", reading->drying)->check(CLI::NonNegativeNumber);
  add_option(read_verb, context, "--why", reading->why);
  auto chemical = add_step<IndicatorOptions>(verb, context, "indicator", indicator);
  CLI::App& indicator_verb = *verb.get_subcommand("indicator");
  add_option(indicator_verb, context, "--place", chemical->place)->required();
  add_option(indicator_verb, context, "--type", chemical->type)->required();
  add_option(indicator_verb, context, "--lot", chemical->lot)->required();
  add_option(indicator_verb, context, "--expires", chemical->expires)->required();
  add_option(indicator_verb, context, "--result", chemical->result)->required();
  add_option(indicator_verb, context, "--package", chemical->package);
  auto spores = add_step<BiologicalOptions>(verb, context, "biological", biological);
  CLI::App& biological_verb = *verb.get_subcommand("biological");
  add_option(biological_verb, context, "--lot", spores->lot)->required();
  add_option(biological_verb, context, "--test", spores->test)->required();
  add_option(biological_verb, context, "--control", spores->control)->required();
  add_option(biological_verb, context, "--control-lot", spores->control_lot)->required();
}

}  // namespace

void add_load(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "load");
  verb->require_subcommand(1);
  add_filling(*verb, context);
  add_evidence(*verb, context);
  auto releasing = add_step<ReleaseOptions>(*verb, context, "release", release);
  add_option(*verb->get_subcommand("release"), context, "--emergency", releasing->emergency);
  add_option(*verb->get_subcommand("release"), context, "--second", releasing->second);
  auto revoking = add_step<WhyOptions>(*verb, context, "revoke", revoke);
  add_option(*verb->get_subcommand("revoke"), context, "--why", revoking->why)->required();
  add_step<LoadOptions>(*verb, context, "show", show);
}

}  // namespace loadlight::cli
