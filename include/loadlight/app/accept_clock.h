// Use cases: how the machine's clock stands beside the record, and putting one that is right back in charge.
#pragma once

#include <optional>
#include <string>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct ClockView final {
  core::Instant now{};
  std::optional<core::Instant> newest;  // event on record
  bool behind = false;                  // by more than the office tolerates, or before this program was made
  bool impossible = false;              // before this program was made: no lead can accept it
};
core::Result<ClockView> show_clock(const Ports& ports);

struct ClockRequest final {
  std::string operator_code;  // a lead
  std::string why;            // required
};
// Says that the machine's clock is right although the record holds later events: from here on these count
// no more, and the dates of what may have been written meanwhile are in doubt (core/clock_doubt.h). LeadRequired,
// ReasonMissing; BadValue for a clock that cannot be right. Yields how far the newest event lay ahead, in
// milliseconds.
core::Result<long long> accept_clock(const Ports& ports, const ClockRequest& request);

}  // namespace loadlight::app
