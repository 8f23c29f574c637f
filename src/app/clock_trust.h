// What the record's times are worth: after a clock that stood ahead was put right, and while one may be behind.
#pragma once

#include "loadlight/app/ports.h"
#include "loadlight/core/clock_doubt.h"
#include "loadlight/core/load.h"

namespace loadlight::app {

// The events of clocks, accepted by a lead, are about this subject.
inline constexpr const char* kClockSubject = "clock";

// How much earlier than its record says the load may have been started; zero as long as no clock was put right
// after it.
core::Result<core::Milliseconds> doubt_about(const port::Unit& unit, const core::LoadName& load);

// What comes into doubt when the clock is accepted now: every entry of the ledger is looked at.
core::Result<std::vector<core::ClockDoubt>> doubts_when_accepted(port::Store& store, core::Instant now,
                                                                 core::Minutes tolerance);

// Today, or the day of the newest event where that is later.
core::Result<core::CivilDate> latest_day(const Ports& ports, const port::Unit& unit);

}  // namespace loadlight::app
