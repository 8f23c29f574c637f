// Use cases: make an office, and put a clock that stands right back in charge.
#pragma once

#include <optional>
#include <string>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct OfficeRequest final {
  std::string name;
  std::string zone;
  std::string profile = "us-cdc-2003";
  std::string language = "en";
  std::optional<int> shelf_life_days;  // 1 to 3650; none: event-related
};

// Writes the office's settings into an empty record. BadValue for a profile or shelf life that is none.
core::Result<core::Office> make_office(const Ports& ports, const OfficeRequest& request);

struct ClockRequest final {
  std::string operator_code;  // a lead
  std::string why;            // required
};
// Says that the machine's clock is right although the record holds later events: from here on these count
// no more. LeadRequired, ReasonMissing. Yields how far the newest event lay ahead, in milliseconds.
core::Result<long long> accept_clock(const Ports& ports, const ClockRequest& request);

}  // namespace loadlight::app
