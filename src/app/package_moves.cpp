#include "app/package_moves.h"

#include "loadlight/core/transitions.h"

namespace loadlight::app {

using core::Failure;
using core::FailureCode;
using core::Result;

Failure wrong_state(const core::Package& package) {
  return Failure{FailureCode::PackageWrongState,
                 {{"package", package.id.text()}, {"state", std::string{core::to_text(package.state)}}},
                 {}};
}

Result<core::Package> write_withdrawal(const Act& act, core::Package package, core::WithdrawReason why) {
  const auto state = core::after(package.state, core::PackageMove::Withdraw);
  if (!state) return wrong_state(package);
  package.state = *state;
  package.withdrawn_because = why;
  const auto written = act.write(core::EventKind::PackageWithdrawn, package.id.text(), {package},
                                 {{"why", std::string{core::to_text(why)}}});
  if (!written) return written.failure();
  return package;
}

Result<core::Incident> write_incident(const Act& act, const core::LoadName& load, core::IncidentCause cause,
                                      std::string note) {
  const auto highest = act.unit->incidents().highest_number();
  if (!highest) return highest.failure();
  core::Incident incident;
  incident.number = *highest + 1;
  incident.cause = cause;
  incident.sterilizer = load.sterilizer;
  incident.first_load = load.number;
  incident.last_load = load.number;
  incident.opened_by = act.who.code;
  incident.opened_at = act.now;
  incident.note = std::move(note);
  const auto written = act.write(core::EventKind::IncidentOpened, std::to_string(incident.number), {incident},
                                 {{"load", load.text()}});
  if (!written) return written.failure();
  return incident;
}

}  // namespace loadlight::app
