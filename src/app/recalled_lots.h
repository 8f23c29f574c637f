// Lots that were called back: the ledger says so, whether or not the office has them in its table.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/release_rules.h"
#include "loadlight/port/store.h"

namespace loadlight::app {

// When it was first called back; nothing for a lot that was not.
core::Result<std::optional<core::Instant>> recalled_at(const port::Unit& unit, const std::string& lot);

// Of the lots that these indicators are of; each once.
core::Result<std::vector<std::string>> recalled_among(const port::Unit& unit, const core::LoadFacts& evidence);

// Was any indicator that was read on this load of such a lot?
core::Result<bool> reads_recalled_lot(const port::Unit& unit, const core::LoadName& load);

}  // namespace loadlight::app
