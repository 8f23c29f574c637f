// The table of package reasons of the project's design, stated a second time without regard to speed or
// beauty; and a walk over the facts that it speaks of.
#pragma once

#include <functional>
#include <vector>

#include "core/reason_set.h"
#include "loadlight/core/package_rules.h"

namespace loadlight::core {

// The day that stands for today. A leap day, whose neighbours are 28 February and 1 March.
CivilDate walk_today();

ReasonSet expected_reasons(const PackageFacts& facts);

// Whether every fact that bears on this package is there.
bool every_fact_is_present(const PackageFacts& facts);

// Every combination of what is seen, the record's state, authenticity, old labels, presence in the record
// and the clock, each over a few packages and loads.
void each_sighting(const std::function<void(const PackageFacts&)>& visit);
// Every combination of a package's row, its dates around their bounds, and its load's row, each for a label
// and a typed id that the record knows.
void each_record(const std::function<void(const PackageFacts&)>& visit);

// The same facts, each with one more thing against the package.
std::vector<PackageFacts> made_worse(const PackageFacts& facts);
// The same facts, each with one of those present taken away.
std::vector<PackageFacts> made_poorer(const PackageFacts& facts);

}  // namespace loadlight::core
