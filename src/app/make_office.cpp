#include "loadlight/app/make_office.h"

#include <algorithm>

#include "loadlight/app/act.h"
#include "loadlight/core/profiles.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

Failure bad_value(const char* field, std::string given) {
  return Failure{FailureCode::BadValue, {{"field", field}, {"given", std::move(given)}}, {}};
}

}  // namespace

Result<core::Office> make_office(const Ports& ports, const OfficeRequest& request) {
  if (!core::find_profile(request.profile)) return bad_value("profile", request.profile);
  if (request.shelf_life_days && (*request.shelf_life_days < 1 || *request.shelf_life_days > 3650)) {
    return bad_value("shelf-life", std::to_string(*request.shelf_life_days));
  }
  core::Office office;
  office.name = request.name;
  office.zone = request.zone;
  office.profile = request.profile;
  office.language = request.language;
  office.shelf_life_days = request.shelf_life_days;
  office.made_at = ports.clock.now();
  auto unit = ports.store.begin(port::Access::Write);
  if (!unit) return unit.failure();
  core::Change change;
  change.kind = core::EventKind::OfficeMade;
  change.at = office.made_at;
  change.subject = office.name;
  change.records = {office};
  if (const auto written = (*unit)->write(change); !written) return written.failure();
  if (const auto ok = (*unit)->commit(); !ok) return ok.failure();
  return office;
}

Result<long long> accept_clock(const Ports& ports, const ClockRequest& request) {
  if (request.why.empty()) return Failure{FailureCode::ReasonMissing, {{"field", "why"}}, {}};
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = require_lead(act->who); !ok) return ok.failure();
  const auto newest = act->unit->newest_event();
  if (!newest) return newest.failure();
  const long long ahead = *newest ? std::max<long long>(0, (**newest - act->now).count()) : 0;
  const auto written = act->write(core::EventKind::ClockCorrected, "", {},
                                  {{"why", request.why}, {"ahead-ms", std::to_string(ahead)}});
  if (!written) return written.failure();
  if (const auto ok = act->unit->commit(); !ok) return ok.failure();
  return ahead;
}

}  // namespace loadlight::app
