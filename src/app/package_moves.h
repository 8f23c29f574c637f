// Steps that several use cases take with a package, within an act that they commit themselves.
#pragma once

#include "loadlight/app/act.h"

namespace loadlight::app {

// PackageWrongState, naming the package and where it stands.
core::Failure wrong_state(const core::Package& package);

// PackageWrongState when it cannot be withdrawn any more.
core::Result<core::Package> write_withdrawal(const Act& act, core::Package package,
                                             core::WithdrawReason why);

}  // namespace loadlight::app
