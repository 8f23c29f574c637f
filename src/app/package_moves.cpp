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

}  // namespace loadlight::app
