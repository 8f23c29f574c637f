// Which labels of one picture lie on one another: the sign of a reused cassette with its old label.
#pragma once

#include <optional>
#include <vector>

#include "loadlight/app/check_packages.h"

namespace loadlight::app {

// For each item, whether another package's label lies on its label; nothing where it could not be told.
// Items without corners never do.
std::vector<std::optional<bool>> find_old_labels(const port::Unit& unit, const CheckRequest& request);

}  // namespace loadlight::app
