// Use case: what must be done now and soon.
#pragma once

#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/core/due.h"

namespace loadlight::app {

// By day, then by kind, then by subject; things up to the office's "near" days ahead.
core::Result<std::vector<core::DueItem>> list_due(const Ports& ports);

}  // namespace loadlight::app
