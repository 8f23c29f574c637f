// The facts about a load that its release is judged by, fetched from the record.
#pragma once

#include "loadlight/app/ports.h"
#include "loadlight/core/release_rules.h"

namespace loadlight::app {

// What the record cannot say is absent, and holds; failures are the store's.
core::Result<core::LoadFacts> facts_of(const port::Unit& unit, const core::Load& load, core::Instant now);

// Where a sterilizer's tests stand for a load that was started on `day` as run `run` (the highest run and
// one more for a load that is about to start): failed while the newest Bowie-Dick or leak test before it
// failed; missing when the profile asks one every day and none of that day passed before it.
core::Result<core::DailyTest> daily_test_before(const port::Unit& unit, const core::Profile& profile,
                                                const core::Sterilizer& sterilizer, core::CivilDate day,
                                                int run);

}  // namespace loadlight::app
