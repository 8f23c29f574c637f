// The table of release reasons of the project's design, stated a second time without regard to speed or
// beauty; and the facts it is tried on, in groups that belong together.
//
// Sources: MMWR 52(RR-17) 2003 VI.F.5 (no release on inadequate mechanical or chemical results), VI.F.6
// (a control of the same lot), VI.F.7 (every load with an implant); CDC 2008 Table 7 and the MRC times for
// the programs; EN 13060 summary for type N. Two wet packages hold a load: common practice.
#pragma once

#include <functional>
#include <vector>

#include "core/reason_set.h"
#include "loadlight/core/release_rules.h"

namespace loadlight::core {

ReasonSet expected_reasons(const LoadFacts& facts);
bool every_fact_is_present(const LoadFacts& facts);

// Facts of an ordinary load that may be released.
LoadFacts releasable();
CivilDate release_day();

// Each changes some of a load's facts; a group holds every combination of the facts it is about.
using Variation = std::function<void(LoadFacts&)>;
using Group = std::vector<Variation>;
Group readings_around_the_bounds();
Group programs_and_sterilizers();
Group indicators_and_days();
Group biologicals_and_implants();
Group tests_and_incidents();
Group states_and_clocks();
Group recalled_lots();

}  // namespace loadlight::core
