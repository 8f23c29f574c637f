// The one place that says how packages and loads move from state to state.
#pragma once

#include <optional>

#include "loadlight/core/load.h"
#include "loadlight/core/package.h"

namespace loadlight::core {

enum class PackageMove { AddToLoad, TakeFromLoad, Open, Withdraw, Void };

// The state after the move; nothing when the move is not allowed from there.
std::optional<PackageState> after(PackageState from, PackageMove move);

enum class LoadMove {
  Open,
  Start,
  Finish,
  Abort,
  Release,
  Quarantine,
  Fail,
  Revoke,
  Recall,
};

std::optional<LoadState> after(LoadState from, LoadMove move);

}  // namespace loadlight::core
