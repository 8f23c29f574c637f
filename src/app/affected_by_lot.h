// What a lot of indicators or pouches was used for, as far as the record can tell.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

// Runs (core::Load::run) of process loads, by sterilizer.
using Runs = std::map<std::string, std::set<int>>;

// Loads whose evidence is of the lot, and loads that a test of the day of the lot spoke for: until the next one.
struct LotEvidence final {
  bool any = false;
  Runs runs;
};
core::Result<LotEvidence> judged_by_lot(const port::Unit& unit, const std::string& lot);

// Pouches that were labelled while the lot was in use, void ones left out; none for a lot of something else. `until`: when the lot was called back, unless that is now.
core::Result<std::vector<core::Package>> packed_in_lot(const Ports& ports, const port::Unit& unit,
                                                       const core::Consumable& lot, std::optional<core::Instant> until);

// Loads that have run, and in which one of the packages lay that was not taken out before.
core::Result<Runs> runs_of_packages(const port::Unit& unit, const std::vector<core::Package>& packages);

}  // namespace loadlight::app
