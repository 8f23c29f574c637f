#include "loadlight/app/load_evidence.h"

#include <algorithm>

#include "app/incident_moves.h"
#include "app/load_moves.h"
#include "app/package_moves.h"
#include "app/rules_in_force.h"
#include "loadlight/app/package_reference.h"
#include "loadlight/core/indicator_types.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::size_t kLongestLot = 40;
constexpr int kOfficeHours = 24;      // common practice: an in-office incubator reads within a day
constexpr int kMailInHours = 7 * 24;  // common practice: a service answers within a week
constexpr int kMostHours = 60 * 24;

Failure bad_value(const char* field, std::string given) {
  return Failure{FailureCode::BadValue, {{"field", field}, {"given", std::move(given)}}, {}};
}

Result<void> check_lot(const char* field, const std::string& lot) {
  if (lot.empty() || lot.size() > kLongestLot) return bad_value(field, lot.substr(0, 60));
  return {};
}

// The package an exception names; it must be in this load.
Result<std::optional<core::Package>> excepted(const Ports& ports, const port::Unit& unit,
                                              const IndicatorRequest& request) {
  if (!request.package) return std::optional<core::Package>{};
  const auto packages = find_packages(ports, unit, {*request.package});
  if (!packages) return packages.failure();
  if (packages->front().load != request.load) return wrong_state(packages->front());
  return std::optional<core::Package>{packages->front()};
}

// May an indicator like this say anything about this load?
Result<void> check_type(const port::Unit& unit, const core::Load& load, const IndicatorRequest& request) {
  if (request.type < 1 || request.type > 6) return bad_value("type", std::to_string(request.type));
  const bool test_load =
      load.purpose == core::LoadPurpose::BowieDick || load.purpose == core::LoadPurpose::Leak;
  const bool unfit = !core::may_stand(request.type, request.place, load.purpose);
  // Others that prove nothing here are kept, and count for nothing.
  if (unfit && (test_load || request.type == 2)) {
    return Failure{FailureCode::IndicatorUnfit,
                   {{"type", std::to_string(request.type)},
                    {"place", std::string{core::to_text(request.place)}},
                    {"purpose", std::string{core::to_text(load.purpose)}}},
                   {}};
  }
  if (!request.stated_celsius && !request.stated_minutes) return {};
  const auto program = program_in_force(unit, load.program, load.name.sterilizer);
  if (!program) return program.failure();
  core::IndicatorReading stated;
  stated.type = request.type;
  stated.stated_celsius = request.stated_celsius;
  stated.stated_minutes = request.stated_minutes;
  if (*program && core::states_program(stated, (**program).celsius, (**program).exposure_minutes)) return {};
  return Failure{FailureCode::IndicatorStatesAnother, {{"program", load.program}}, {}};
}

// The earlier of the day that was typed in and the one the lot was bought with.
Result<core::CivilDate> expiry_of(const port::Unit& unit, const std::string& lot, core::CivilDate typed) {
  const auto consumable = unit.consumables().find(lot);
  if (!consumable) return consumable.failure();
  return *consumable ? std::min(typed, (**consumable).expires) : typed;
}

bool is_same_indicator(const core::IndicatorReading& a, const core::IndicatorReading& b) {
  return a.place == b.place && a.type == b.type && a.lot == b.lot && a.package == b.package;
}

Result<void> require_reason(const port::Unit& unit, const core::IndicatorReading& reading) {
  if (!reading.why.empty()) return {};
  const auto earlier = unit.evidence().indicators_of(reading.load);
  if (!earlier) return earlier.failure();
  const bool differs = std::any_of(earlier->begin(), earlier->end(), [&](const auto& one) {
    return is_same_indicator(one, reading) && one.passed != reading.passed;
  });
  if (differs) return Failure{FailureCode::ResultDiffers, {{"subject", reading.load.text()}}, {}};
  return {};
}

Result<core::IndicatorReading> reading_of(const Act& act, const IndicatorRequest& request,
                                          const std::optional<core::Package>& package) {
  const auto highest = act.unit->evidence().highest_indicator_number();
  if (!highest) return highest.failure();
  const auto expires = expiry_of(*act.unit, request.lot, request.expires);
  if (!expires) return expires.failure();
  core::IndicatorReading reading;
  reading.number = *highest + 1;
  reading.load = request.load;
  reading.place = request.place;
  reading.type = request.type;
  reading.lot = request.lot;
  reading.expires = *expires;
  reading.passed = request.passed;
  if (package) reading.package = package->id;
  reading.read_by = act.who.code;
  reading.read_at = act.now;
  reading.stated_celsius = request.stated_celsius;
  reading.stated_minutes = request.stated_minutes;
  reading.why = request.why;
  return reading;
}

// ---- biological indicators

bool may_carry_biological(const core::Load& load) {
  return load.purpose == core::LoadPurpose::Process || load.purpose == core::LoadPurpose::Retest;
}

Failure unfit_for(const core::Load& load) {
  return Failure{FailureCode::IndicatorUnfit,
                 {{"type", "BI"}, {"place", ""}, {"purpose", std::string{core::to_text(load.purpose)}}},
                 {}};
}

Result<void> check(const BiologicalRequest& request) {
  if (const auto ok = check_lot("lot", request.lot); !ok) return ok;
  if (request.control_lot.size() > kLongestLot)
    return bad_value("control-lot", request.control_lot.substr(0, 60));
  if (request.report_file.size() > 200) return bad_value("report", request.report_file.substr(0, 60));
  return {};
}

bool says_the_same(const core::BiologicalReading& earlier, const BiologicalRequest& request) {
  return earlier.lot == request.lot && earlier.test == request.test && earlier.control == request.control &&
         earlier.control_lot == request.control_lot;
}

// How a result meets what the record already holds about its load.
struct Meeting final {
  std::optional<int> run;  // the one it answers
  bool repeats = false;    // says again what is on record
  bool not_placed = false;
};

// Of the indicators of a lot the first without a result; once all have one, the last.
std::optional<int> run_answered_by(const std::string& lot, const std::vector<core::BiologicalRun>& runs,
                                   const std::vector<core::BiologicalReading>& readings) {
  std::optional<int> last;
  for (const core::BiologicalRun& run : runs) {
    if (run.lot != lot) continue;
    last = run.number;
    const bool read = std::any_of(readings.begin(), readings.end(),
                                  [&](const auto& reading) { return reading.of_run == run.number; });
    if (!read) return last;
  }
  return last;
}

Result<Meeting> meet(const port::Unit& unit, const core::Load& load, const BiologicalRequest& request) {
  const auto runs = unit.evidence().runs_of(load.name);
  if (!runs) return runs.failure();
  const auto earlier = unit.evidence().biologicals_of(load.name);
  if (!earlier) return earlier.failure();
  Meeting meeting;
  meeting.not_placed = runs->empty();
  meeting.run = run_answered_by(request.lot, *runs, *earlier);
  const bool other_lot = !runs->empty() && !meeting.run;
  bool differs = false;
  for (const core::BiologicalReading& reading : *earlier) {
    if (reading.lot != request.lot || (meeting.run && reading.of_run != meeting.run)) continue;
    meeting.repeats = says_the_same(reading, request);
    differs = !meeting.repeats;
  }
  if (!meeting.repeats && (other_lot || differs) && request.why.empty()) {
    return Failure{FailureCode::ResultDiffers, {{"subject", load.name.text()}}, {}};
  }
  return meeting;
}

Result<void> write_result(const Act& act, const BiologicalRequest& request, const Meeting& meeting) {
  const auto highest = act.unit->evidence().highest_biological_number();
  if (!highest) return highest.failure();
  core::BiologicalReading reading;
  reading.number = *highest + 1;
  reading.load = request.load;
  reading.lot = request.lot;
  reading.test = request.test;
  reading.control = request.control;
  reading.control_lot = request.control_lot;
  reading.read_by = act.who.code;
  reading.read_at = act.now;
  reading.of_run = meeting.run;
  reading.received_on = request.received_on;
  reading.reported_on = request.reported_on;
  reading.report_file = request.report_file;
  reading.why = request.why;
  return act.write(EventKind::BiologicalRead, request.load.text(), {reading});
}

// What a result entails beyond its own load.
Result<std::optional<core::Incident>> bear_on_incidents(const Act& act, const core::Load& load,
                                                        core::BiologicalTest test) {
  if (load.retest_of) {
    auto borne = bear_on_incident(act, *load.retest_of);
    if (!borne || *borne) return borne;
  }
  if (test != core::BiologicalTest::Growth) return std::optional<core::Incident>{};
  const auto incident = open_incident(act, load, core::IncidentCause::BiologicalPositive, "");
  if (!incident) return incident.failure();
  return std::optional{*incident};
}

}  // namespace

Result<IndicatorReply> record_indicator(const Ports& ports, const IndicatorRequest& request) {
  if (const auto ok = check_lot("lot", request.lot); !ok) return ok.failure();
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto load = find_load(*act->unit, request.load);
  if (!load) return load.failure();
  if (!core::awaits_decision(load->state)) return wrong_state(*load);
  if (const auto ok = check_type(*act->unit, *load, request); !ok) return ok.failure();
  const auto package = excepted(ports, *act->unit, request);
  if (!package) return package.failure();
  const auto reading = reading_of(*act, request, *package);
  if (!reading) return reading.failure();
  if (const auto ok = require_reason(*act->unit, *reading); !ok) return ok.failure();
  const auto written = act->write(EventKind::IndicatorRead, load->name.text(), {*reading});
  if (!written) return written.failure();
  IndicatorReply reply{*load, std::nullopt, std::nullopt};
  if (*package && !request.passed && request.place == core::IndicatorPlace::Internal) {
    auto incident = open_incident(*act, *load, core::IncidentCause::InternalIndicator, (**package).id.text());
    if (!incident) return incident.failure();
    reply.incident = *incident;
  }
  const bool out_already = *package && (**package).state == core::PackageState::Withdrawn;
  if (*package && !request.passed && !out_already) {
    auto withdrawn = write_withdrawal(*act, **package, core::WithdrawReason::Indicator);
    if (!withdrawn) return withdrawn.failure();
    reply.withdrawn = *withdrawn;
  }
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return reply;
}

Result<core::BiologicalRun> place_biological(const Ports& ports, const PlaceBiologicalRequest& request) {
  if (const auto ok = check_lot("lot", request.lot); !ok) return ok.failure();
  if (const auto ok = check_lot("control-lot", request.control_lot); !ok) return ok.failure();
  const bool by_mail = request.reader == core::BiologicalReader::MailIn;
  if (by_mail == request.service.empty() || request.service.size() > 80) {
    return bad_value("service", request.service.substr(0, 60));
  }
  const int hours = request.hours.value_or(by_mail ? kMailInHours : kOfficeHours);
  if (hours < 1 || hours > kMostHours) return bad_value("hours", std::to_string(hours));
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto load = find_load(*act->unit, request.load);
  if (!load) return load.failure();
  if (!may_carry_biological(*load)) return unfit_for(*load);
  const bool undecided = load->state == core::LoadState::Open || load->state == core::LoadState::Running ||
                         core::awaits_decision(load->state);
  if (!undecided) return wrong_state(*load);
  const auto highest = act->unit->evidence().highest_run_number();
  if (!highest) return highest.failure();
  const auto consumable = act->unit->consumables().find(request.lot);
  if (!consumable) return consumable.failure();
  core::BiologicalRun run;
  run.number = *highest + 1;
  run.load = request.load;
  run.lot = request.lot;
  run.control_lot = request.control_lot;
  if (*consumable) run.expires = (**consumable).expires;
  run.reader = request.reader;
  run.service = request.service;
  run.placed_by = act->who.code;
  run.placed_at = act->now;
  run.due_at = load->started_at.value_or(act->now) + std::chrono::hours{hours};
  const auto written = act->write(EventKind::BiologicalPlaced, load->name.text(), {run});
  if (!written) return written.failure();
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return run;
}

Result<core::BiologicalRun> move_biological(const Ports& ports, const MoveBiologicalRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto found = act->unit->evidence().find_run(request.run);
  if (!found) return found.failure();
  if (!*found) {
    return Failure{FailureCode::IndicatorUnknown, {{"number", std::to_string(request.run)}}, {}};
  }
  core::BiologicalRun run = **found;
  if (request.incubated) run.incubated_at = act->now;
  if (request.sent) run.sent_on = act->today;
  const auto written = act->write(EventKind::BiologicalMoved, run.load.text(), {run});
  if (!written) return written.failure();
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return run;
}

Result<BiologicalReply> record_biological(const Ports& ports, const BiologicalRequest& request) {
  if (const auto ok = check(request); !ok) return ok.failure();
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto load = find_load(*act->unit, request.load);
  if (!load) return load.failure();
  if (!may_carry_biological(*load)) return unfit_for(*load);
  if (!core::has_ended(load->state)) return wrong_state(*load);
  const auto meeting = meet(*act->unit, *load, request);
  if (!meeting) return meeting.failure();
  BiologicalReply reply{*load, std::nullopt, meeting->not_placed};
  if (meeting->repeats) return reply;
  if (const auto ok = write_result(*act, request, *meeting); !ok) return ok.failure();
  const auto incident = bear_on_incidents(*act, *load, request.test);
  if (!incident) return incident.failure();
  reply.incident = *incident;
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return reply;
}

}  // namespace loadlight::app
