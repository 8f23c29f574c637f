#include "loadlight/app/load_evidence.h"

#include "app/load_moves.h"
#include "app/package_moves.h"
#include "loadlight/app/package_reference.h"
#include "loadlight/core/release_rules.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Result;

Failure bad_value(const char* field, std::string given) {
  return Failure{FailureCode::BadValue, {{"field", field}, {"given", std::move(given)}}, {}};
}

Result<void> check(const IndicatorRequest& request) {
  if (request.type < 1 || request.type > 6) return bad_value("type", std::to_string(request.type));
  if (request.lot.empty() || request.lot.size() > 40) return bad_value("lot", request.lot.substr(0, 60));
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

// The number of the first load after the last one with a valid negative result, before `load`.
Result<int> first_suspect(const port::Unit& unit, const core::LoadName& load) {
  for (int number = load.number - 1; number >= 1; --number) {
    const auto results = unit.evidence().biologicals_of({load.sterilizer, number});
    if (!results) return results.failure();
    for (const auto& result : *results) {
      if (core::is_valid_negative(result)) return number + 1;
    }
  }
  return 1;
}

Result<core::Incident> suspect_loads(const Act& act, const core::LoadName& load) {
  const auto first = first_suspect(*act.unit, load);
  if (!first) return first.failure();
  const auto highest = act.unit->incidents().highest_number();
  if (!highest) return highest.failure();
  const auto sterilizer = act.unit->sterilizers().find(load.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  core::Incident incident;
  incident.number = *highest + 1;
  incident.cause = core::IncidentCause::BiologicalPositive;
  incident.sterilizer = load.sterilizer;
  incident.first_load = *first;
  incident.opened_by = act.who.code;
  incident.opened_at = act.now;
  std::vector<core::Record> records{incident};
  if (*sterilizer) {
    core::Sterilizer out = **sterilizer;
    out.in_service = false;
    records.emplace_back(out);
  }
  const auto written = act.write(EventKind::IncidentOpened, std::to_string(incident.number),
                                 std::move(records), {{"load", load.text()}});
  if (!written) return written.failure();
  return incident;
}

}  // namespace

Result<IndicatorReply> record_indicator(const Ports& ports, const IndicatorRequest& request) {
  if (const auto ok = check(request); !ok) return ok.failure();
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto load = find_load(*act->unit, request.load);
  if (!load) return load.failure();
  if (!core::awaits_decision(load->state)) return wrong_state(*load);
  const auto package = excepted(ports, *act->unit, request);
  if (!package) return package.failure();
  const auto highest = act->unit->evidence().highest_indicator_number();
  if (!highest) return highest.failure();
  core::IndicatorReading reading{*highest + 1,   request.load,    request.place,
                                 request.type,   request.lot,     request.expires,
                                 request.passed, std::nullopt,    act->who.code,
                                 act->now};
  if (*package) reading.package = (**package).id;
  const auto written = act->write(EventKind::IndicatorRead, load->name.text(), {reading});
  if (!written) return written.failure();
  IndicatorReply reply{*load, std::nullopt};
  if (*package && !request.passed) {
    auto withdrawn = write_withdrawal(*act, **package, core::WithdrawReason::Indicator);
    if (!withdrawn) return withdrawn.failure();
    reply.withdrawn = *withdrawn;
  }
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return reply;
}

Result<BiologicalReply> record_biological(const Ports& ports, const BiologicalRequest& request) {
  if (request.lot.empty() || request.lot.size() > 40) return bad_value("lot", request.lot.substr(0, 60));
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto load = find_load(*act->unit, request.load);
  if (!load) return load.failure();
  if (!core::has_ended(load->state)) return wrong_state(*load);
  const auto highest = act->unit->evidence().highest_biological_number();
  if (!highest) return highest.failure();
  const core::BiologicalReading reading{*highest + 1,        request.load, request.lot,
                                        request.test,        request.control,
                                        request.control_lot, act->who.code, act->now};
  const auto written = act->write(EventKind::BiologicalRead, load->name.text(), {reading});
  if (!written) return written.failure();
  BiologicalReply reply{*load, std::nullopt};
  if (request.test == core::BiologicalTest::Growth) {
    auto incident = suspect_loads(*act, load->name);
    if (!incident) return incident.failure();
    reply.incident = *incident;
  }
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return reply;
}

}  // namespace loadlight::app
