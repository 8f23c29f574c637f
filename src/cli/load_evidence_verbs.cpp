#include <cmath>
#include <iostream>

#include "cli/commands.h"
#include "cli/load_verbs.h"
#include "loadlight/app/load_evidence.h"
#include "loadlight/app/load_life.h"
#include "loadlight/app/read_cycle_log.h"

namespace loadlight::cli {
namespace {

using core::Result;

struct ReadingOptions final {
  std::string load;
  double low = std::nan("");
  double high = std::nan("");
  double minutes = std::nan("");
  double pressure = std::nan("");
  double drying = -1;
  std::string log;
  std::string mapping;
  std::string why;
};

// Says how far a long log has come, on a terminal and not more often than every hundredth.
class LogProgress final {
 public:
  explicit LogProgress(const Context& context) : shown_(!context.json && context.world.person_is_there()) {}

  bool operator()(std::uint64_t done, std::uint64_t total) {
    if (total == 0 || !shown_) return true;
    const auto percent = static_cast<int>(100 * done / total);
    if (percent == percent_ || total < (4u << 20)) return true;
    percent_ = percent;
    std::cerr << '\r' << percent << " %" << (percent == 100 ? "\n" : "") << std::flush;
    return true;
  }

 private:
  bool shown_;
  int percent_ = -1;
};

// The text of a mapping: a name among the templates, or a file of the office's own.
Result<std::string> mapping_text(const Context& context, const std::string& name) {
  const bool is_path = name.find_first_of("/.") != std::string::npos;
  const std::string path = is_path ? name : context.world.templates_folder + "/mappings/" + name + ".mapping";
  const auto text = context.world.files.read(path, exchange::kLargestMapping);
  if (text) return *text;
  return core::Failure{core::FailureCode::MappingUnknown, {{"mapping", name}}, {}};
}

void tell_log(const Context& context, const app::CycleLogReply& reply) {
  const auto say = [&](const char* key, std::size_t count) {
    if (count > 0)
      context.tell(context.text(std::string{"cycle-log.told."} + key, {{"count", std::to_string(count)}}));
  };
  say("repeated", reply.summary.repeated);
  say("without-temperature", reply.summary.without_temperature);
  say("midnights", reply.summary.midnights);
  say("clock-change", reply.summary.clock_change_line);
  say("last-line", reply.summary.last_line_left_out ? 1 : 0);
}

int read_log(const Context& context, const app::Ports& ports, const core::LoadName& name,
             const ReadingOptions& options) {
  const auto mapping = mapping_text(context, options.mapping);
  if (!mapping) return context.fail(mapping.failure());
  const auto reply =
      app::read_cycle_log(ports, context.world.files,
                          {context.operator_code, name, options.log, options.mapping, *mapping, options.why},
                          LogProgress{context});
  if (!reply) return context.fail(reply.failure());
  tell_log(context, *reply);
  return answer_ended(context, ports, reply->load, {{"samples", reply->findings.samples}});
}

// NaN: the option was not given.
std::optional<std::string> missing_reading(const ReadingOptions& options) {
  for (const auto& [name, value] :
       {std::pair{"low", options.low}, std::pair{"high", options.high}, std::pair{"minutes", options.minutes},
        std::pair{"pressure", options.pressure}}) {
    if (std::isnan(value)) return name;
  }
  return std::nullopt;
}

int readings(const Context& context, const ReadingOptions& options) {
  if (!options.log.empty()) {
    return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
      return read_log(context, ports, name, options);
    });
  }
  if (const auto missing = missing_reading(options)) {
    return context.fail({core::FailureCode::WrongUsage, {{"problem", "--" + *missing + " is required"}}, {}});
  }
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
  double stated_celsius = 0;
  double stated_minutes = 0;
  std::string why;
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
                                  options.result == "pass", {},   {},     {},           options.why};
    if (!options.package.empty()) request.package = options.package;
    if (options.stated_celsius != 0) request.stated_celsius = options.stated_celsius;
    if (options.stated_minutes != 0) request.stated_minutes = options.stated_minutes;
    const auto reply = app::record_indicator(ports, request);
    if (!reply) return context.fail(reply.failure());
    Json more = Json::object();
    if (reply->withdrawn) more["withdrawn"] = reply->withdrawn->id.text();
    if (reply->incident) more["incident"] = reply->incident->number;
    return answer_ended(context, ports, reply->load, std::move(more));
  });
}

struct BiologicalOptions final {
  std::string load;
  std::string lot;
  std::string test;
  std::string control;
  std::string control_lot;
  std::string received;
  std::string reported;
  std::string report;
  std::string why;
};

int biological(const Context& context, const BiologicalOptions& options) {
  const auto test = parse_term<core::BiologicalTest>("test", options.test);
  if (!test) return context.fail(test.failure());
  const auto control = parse_term<core::BiologicalControl>("control", options.control);
  if (!control) return context.fail(control.failure());
  const auto received = parse_optional_date("received", options.received);
  if (!received) return context.fail(received.failure());
  const auto reported = parse_optional_date("reported", options.reported);
  if (!reported) return context.fail(reported.failure());
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const auto reply = app::record_biological(
        ports, {context.operator_code, name, options.lot, *test, *control, options.control_lot, *received,
                *reported, options.report, options.why});
    if (!reply) return context.fail(reply.failure());
    if (reply->was_not_placed) context.tell(context.text("load.biological-not-placed"));
    Json more = Json::object();
    if (reply->incident) {
      more["incident"] = reply->incident->number;
      context.tell(
          context.text("load.incident-opened", {{"incident", std::to_string(reply->incident->number)}}));
    }
    return answer_ended(context, ports, reply->load, std::move(more));
  });
}

struct LeakOptions final {
  std::string load;
  double rate = 0;
  std::string result;
  std::string why;
};

int leak(const Context& context, const LeakOptions& options) {
  if (options.result != "pass" && options.result != "fail") {
    return context.fail(bad_value("result", options.result, "pass, fail"));
  }
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const core::LeakTest test{options.rate, options.result == "pass"};
    return answer_ended(context, ports,
                        app::record_leak(ports, {context.operator_code, name, test, options.why}));
  });
}

Json run_json(const core::BiologicalRun& run) {
  return {{"number", run.number},
          {"load", run.load.text()},
          {"lot", run.lot},
          {"control_lot", run.control_lot},
          {"reader", std::string{core::to_text(run.reader)}},
          {"due", core::to_text(run.due_at)}};
}

int answer_run(const Context& context, const Result<core::BiologicalRun>& run) {
  if (!run) return context.fail(run.failure());
  context.answer(run_json(*run), context.text("line.biological-run", {{"number", std::to_string(run->number)},
                                                                      {"load", run->load.text()},
                                                                      {"lot", run->lot},
                                                                      {"due", core::to_text(run->due_at)}}));
  return kDone;
}

struct PlaceOptions final {
  std::string load;
  std::string lot;
  std::string control_lot;
  std::string reader = "office";
  std::string service;
  int hours = 0;
};

int place(const Context& context, const PlaceOptions& options) {
  const auto reader = parse_term<core::BiologicalReader>("reader", options.reader);
  if (!reader) return context.fail(reader.failure());
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    app::PlaceBiologicalRequest request{
        context.operator_code, name, options.lot, options.control_lot, *reader, options.service, {}};
    if (options.hours != 0) request.hours = options.hours;
    return answer_run(context, app::place_biological(ports, request));
  });
}

struct MoveOptions final {
  int number = 0;
  bool incubated = false;
  bool sent = false;
};

int move(const Context& context, const MoveOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return answer_run(context, app::move_biological((*office)->ports, {context.operator_code, options.number,
                                                                     options.incubated, options.sent}));
}

void add_placing(CLI::App& verb, Context& context) {
  auto placing = add_step<PlaceOptions>(verb, context, "biological-placed", place);
  CLI::App& place_verb = *verb.get_subcommand("biological-placed");
  add_option(place_verb, context, "--lot", placing->lot)->required();
  add_option(place_verb, context, "--control-lot", placing->control_lot)->required();
  add_option(place_verb, context, "--reader", placing->reader);
  add_option(place_verb, context, "--service", placing->service);
  add_option(place_verb, context, "--hours", placing->hours)->check(CLI::PositiveNumber);
  auto moving = add_step<MoveOptions>(verb, context, "biological-moved", move);
  CLI::App& move_verb = *verb.get_subcommand("biological-moved");
  add_option(move_verb, context, "run", moving->number)->required()->check(CLI::PositiveNumber);
  add_flag(move_verb, context, "--incubated", moving->incubated);
  add_flag(move_verb, context, "--sent", moving->sent);
}

}  // namespace

void add_evidence_verbs(CLI::App& verb, Context& context) {
  auto reading = add_step<ReadingOptions>(verb, context, "readings", readings);
  CLI::App& read_verb = *verb.get_subcommand("readings");
  CLI::Option* log = add_option(read_verb, context, "--log", reading->log);
  CLI::Option* mapping = add_option(read_verb, context, "--mapping", reading->mapping);
  log->needs(mapping);
  mapping->needs(log);
  for (const auto& [name, value] :
       {std::pair{"--low", &reading->low}, std::pair{"--high", &reading->high},
        std::pair{"--minutes", &reading->minutes}, std::pair{"--pressure", &reading->pressure}}) {
    log->excludes(add_option(read_verb, context, name, *value));
  }
  CLI::Option* drying =
      add_option(read_verb, context, "--drying", reading->drying)->check(CLI::NonNegativeNumber);
  log->excludes(drying);
  add_option(read_verb, context, "--why", reading->why);
  auto chemical = add_step<IndicatorOptions>(verb, context, "indicator", indicator);
  CLI::App& indicator_verb = *verb.get_subcommand("indicator");
  add_option(indicator_verb, context, "--place", chemical->place)->required();
  add_option(indicator_verb, context, "--type", chemical->type)->required();
  add_option(indicator_verb, context, "--lot", chemical->lot)->required();
  add_option(indicator_verb, context, "--expires", chemical->expires)->required();
  add_option(indicator_verb, context, "--result", chemical->result)->required();
  add_option(indicator_verb, context, "--package", chemical->package);
  add_option(indicator_verb, context, "--stated-celsius", chemical->stated_celsius)
      ->check(CLI::PositiveNumber);
  add_option(indicator_verb, context, "--stated-minutes", chemical->stated_minutes)
      ->check(CLI::PositiveNumber);
  add_option(indicator_verb, context, "--why", chemical->why);
  auto spores = add_step<BiologicalOptions>(verb, context, "biological", biological);
  CLI::App& biological_verb = *verb.get_subcommand("biological");
  add_option(biological_verb, context, "--lot", spores->lot)->required();
  add_option(biological_verb, context, "--test", spores->test)->required();
  add_option(biological_verb, context, "--control", spores->control)->required();
  add_option(biological_verb, context, "--control-lot", spores->control_lot)->required();
  add_option(biological_verb, context, "--received", spores->received);
  add_option(biological_verb, context, "--reported", spores->reported);
  add_option(biological_verb, context, "--report", spores->report);
  add_option(biological_verb, context, "--why", spores->why);
  add_placing(verb, context);
  auto leaking = add_step<LeakOptions>(verb, context, "leak", leak);
  CLI::App& leak_verb = *verb.get_subcommand("leak");
  add_option(leak_verb, context, "--rate", leaking->rate)->required()->check(CLI::NonNegativeNumber);
  add_option(leak_verb, context, "--result", leaking->result)->required();
  add_option(leak_verb, context, "--why", leaking->why);
}

}  // namespace loadlight::cli
