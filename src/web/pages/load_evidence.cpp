// What a sterilizer and its indicators showed, as it is entered.
#include "loadlight/app/load_evidence.h"

#include "loadlight/app/load_life.h"
#include "loadlight/app/read_cycle_log.h"
#include "web/form_values.h"
#include "web/pages/pages.h"
#include "web/posted_file.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

// What a form about a load begins with: the office and the load's name.
struct About final {
  std::shared_ptr<app::OpenOffice> office;
  core::LoadName load;
  const app::Ports& ports() const { return office->ports; }
};

Result<About> about(const Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  const auto load = load_of(visit);
  if (!load) return load.failure();
  return About{*office, *load};
}

Response done(const Visit& visit, const core::LoadName& load, std::string_view what,
              core::Details details = {}) {
  details.emplace_back("load", load.text());
  return visit.go_to("/loads/" + load.text(), what, details);
}

Result<bool> passed_of(const Visit& visit) {
  const std::string result = text_of(visit, "result");
  if (result == "pass") return true;
  if (result == "fail") return false;
  return bad_field("result", result, "pass, fail");
}

Result<core::Readings> typed_readings(const Visit& visit) {
  core::Readings readings;
  for (const auto& [field, place] :
       {std::pair{"low", &readings.low_celsius}, std::pair{"high", &readings.high_celsius},
        std::pair{"minutes", &readings.minutes}, std::pair{"pressure", &readings.pressure_kpa}}) {
    const auto value = number_of(visit, field);
    if (!value) return value.failure();
    *place = *value;
  }
  const auto drying = number_if_any(visit, "drying");
  if (!drying) return drying.failure();
  if (*drying && **drying < 0) return bad_field("drying", text_of(visit, "drying"));
  readings.drying_minutes = *drying;
  return readings;
}

Result<app::IndicatorRequest> typed_indicator(const Visit& visit, const core::LoadName& load) {
  app::IndicatorRequest request;
  request.operator_code = visit.operator_code();
  request.load = load;
  const auto place = term_of<core::IndicatorPlace>(visit, "place");
  if (!place) return place.failure();
  const auto type = whole_of(visit, "type");
  if (!type) return type.failure();
  const auto expires = date_of(visit, "expires");
  if (!expires) return expires.failure();
  const auto passed = passed_of(visit);
  if (!passed) return passed.failure();
  const auto celsius = number_if_any(visit, "stated-celsius");
  if (!celsius) return celsius.failure();
  const auto minutes = number_if_any(visit, "stated-minutes");
  if (!minutes) return minutes.failure();
  request.place = *place;
  request.type = *type;
  request.lot = text_of(visit, "lot");
  request.expires = *expires;
  request.passed = *passed;
  request.stated_celsius = *celsius;
  request.stated_minutes = *minutes;
  request.why = text_of(visit, "why");
  if (const std::string package = text_of(visit, "package"); !package.empty()) request.package = package;
  return request;
}

Result<app::BiologicalRequest> typed_result(const Visit& visit, const core::LoadName& load) {
  app::BiologicalRequest request;
  request.operator_code = visit.operator_code();
  request.load = load;
  const auto test = term_of<core::BiologicalTest>(visit, "test");
  if (!test) return test.failure();
  const auto control = term_of<core::BiologicalControl>(visit, "control");
  if (!control) return control.failure();
  const auto received = date_if_any(visit, "received");
  if (!received) return received.failure();
  const auto reported = date_if_any(visit, "reported");
  if (!reported) return reported.failure();
  request.lot = text_of(visit, "lot");
  request.test = *test;
  request.control = *control;
  request.control_lot = text_of(visit, "control-lot");
  request.received_on = *received;
  request.reported_on = *reported;
  request.report_file = text_of(visit, "report");
  request.why = text_of(visit, "why");
  return request;
}

// The text of a mapping of templates/mappings. The name is a plain one, or there is no such mapping.
Result<std::string> mapping_text(const Visit& visit, std::string_view name) {
  const app::World& world = visit.desk.world();
  const bool plain = !name.empty() && name.find_first_of("/.\\") == std::string_view::npos;
  const std::string path = world.templates_folder + "/mappings/" + std::string{name} + ".mapping";
  if (plain) {
    auto text = world.files.read(path, exchange::kLargestMapping);
    if (text) return text;
  }
  return Failure{FailureCode::MappingUnknown, {{"mapping", std::string{name.substr(0, 80)}}}, {}};
}

// What stands in the record must be UTF-8.
std::optional<std::string> plain_query_value(const Visit& visit, std::string_view name) {
  const auto as_form = parse_form("value=" + url_escaped(visit.asked(name)));
  if (!as_form) return std::nullopt;
  return std::string{as_form->value("value")};
}

// What a reader should be told about a log that was taken; empty if nothing.
std::string told_of(const Visit& visit, const exchange::LogSummary& summary) {
  std::string told;
  const auto say = [&](const char* key, std::size_t count) {
    if (count == 0) return;
    told += (told.empty() ? "" : " ") +
            visit.word(std::string{"cycle-log.told."} + key, {{"count", std::to_string(count)}});
  };
  say("repeated", summary.repeated);
  say("without-temperature", summary.without_temperature);
  say("midnights", summary.midnights);
  say("clock-change", summary.clock_change_line);
  say("last-line", summary.last_line_left_out ? 1 : 0);
  return told;
}

}  // namespace

Response record_readings_here(Visit& visit) {
  const auto on = about(visit);
  if (!on) return visit.failed(on.failure());
  const auto readings = typed_readings(visit);
  if (!readings) return visit.failed(readings.failure());
  const auto load =
      app::record_readings(on->ports(), {visit.operator_code(), on->load, *readings, text_of(visit, "why")});
  return load ? done(visit, on->load, "load-readings") : visit.failed(load.failure());
}

Response read_log_here(Visit& visit) {
  const auto on = about(visit);
  if (!on) return visit.failed(on.failure());
  const auto why = plain_query_value(visit, "why");
  const auto file_name = plain_query_value(visit, "file");
  if (!why || !file_name) return visit.failed({FailureCode::RequestUnreadable, {}, {}});
  const std::string name{visit.asked("mapping")};
  const auto mapping = mapping_text(visit, name);
  if (!mapping) return visit.failed(mapping.failure());
  const PostedFile file{visit.request.body};
  const auto reply = app::read_cycle_log(
      on->ports(), file, {visit.operator_code(), on->load, plain_file_name(*file_name), name, *mapping, *why},
      {});
  if (!reply) return visit.failed(reply.failure());
  core::Details details{{"samples", std::to_string(reply->findings.samples)}};
  if (const std::string told = told_of(visit, reply->summary); !told.empty())
    details.emplace_back("told", told);
  return done(visit, on->load, "load-log", details);
}

Response record_leak_here(Visit& visit) {
  const auto on = about(visit);
  if (!on) return visit.failed(on.failure());
  const auto rate = number_of(visit, "rate");
  if (!rate) return visit.failed(rate.failure());
  if (*rate < 0) return visit.failed(bad_field("rate", text_of(visit, "rate")));
  const auto passed = passed_of(visit);
  if (!passed) return visit.failed(passed.failure());
  const auto load = app::record_leak(
      on->ports(), {visit.operator_code(), on->load, {*rate, *passed}, text_of(visit, "why")});
  return load ? done(visit, on->load, "load-leak") : visit.failed(load.failure());
}

Response record_indicator_here(Visit& visit) {
  const auto on = about(visit);
  if (!on) return visit.failed(on.failure());
  const auto request = typed_indicator(visit, on->load);
  if (!request) return visit.failed(request.failure());
  const auto reply = app::record_indicator(on->ports(), *request);
  if (!reply) return visit.failed(reply.failure());
  if (!reply->incident) return done(visit, on->load, "load-indicator");
  return done(visit, on->load, "load-indicator-incident",
              {{"incident", std::to_string(reply->incident->number)}});
}

Response place_biological_here(Visit& visit) {
  const auto on = about(visit);
  if (!on) return visit.failed(on.failure());
  const auto reader = term_of<core::BiologicalReader>(visit, "reader");
  if (!reader) return visit.failed(reader.failure());
  const auto hours = whole_if_any(visit, "hours");
  if (!hours) return visit.failed(hours.failure());
  if (*hours && **hours < 1) return visit.failed(bad_field("hours", text_of(visit, "hours")));
  const auto run = app::place_biological(
      on->ports(), {visit.operator_code(), on->load, text_of(visit, "lot"), text_of(visit, "control-lot"),
                    *reader, text_of(visit, "service"), *hours});
  return run ? done(visit, on->load, "load-biological-placed") : visit.failed(run.failure());
}

Response move_biological_here(Visit& visit) {
  const auto on = about(visit);
  if (!on) return visit.failed(on.failure());
  // "incubated 3": what was done, with which run.
  const std::string move = text_of(visit, "move");
  const bool incubated = move.starts_with("incubated ");
  const bool sent = move.starts_with("sent ");
  if (!incubated && !sent) return visit.failed(bad_field("move", move));
  const auto number = whole_in(move.substr(move.find(' ') + 1));
  if (!number) return visit.failed(bad_field("move", move));
  const auto run = app::move_biological(on->ports(), {visit.operator_code(), *number, incubated, sent});
  if (!run) return visit.failed(run.failure());
  return done(visit, on->load, incubated ? "load-biological-incubated" : "load-biological-sent");
}

Response record_biological_here(Visit& visit) {
  const auto on = about(visit);
  if (!on) return visit.failed(on.failure());
  const auto request = typed_result(visit, on->load);
  if (!request) return visit.failed(request.failure());
  const auto reply = app::record_biological(on->ports(), *request);
  if (!reply) return visit.failed(reply.failure());
  if (reply->incident) {
    return visit.go_to("/recall/" + std::to_string(reply->incident->number), "incident-opened",
                       {{"incident", std::to_string(reply->incident->number)}});
  }
  return done(visit, on->load, reply->was_not_placed ? "load-biological-not-placed" : "load-biological");
}

}  // namespace loadlight::web
