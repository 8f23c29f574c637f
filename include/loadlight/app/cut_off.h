// While the record cannot be reached: what may stand in for it, and for how long. Only where the office's profile says
// so (local-copy-minutes), which is read from the copy itself.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/port/local_copy.h"

namespace loadlight::app {

// Which copy an answer comes from.
struct FromCopy final {
  core::Instant taken{};
  int minutes = 0;     // its age, rounded up
  std::string moment;  // as people read it: "2026-11-25 14:03"
};

struct StandIn final {
  port::CopyView copy;
  FromCopy from;
  std::vector<port::QueuedAct> waiting;  // what was done here since

  const port::Unit& unit() const { return *copy.unit; }
};

// True for a failure that says of the record that it cannot be reached now, and of nothing else.
bool is_out_of_reach(const core::Failure& failure);

// The copy, after the record failed in this way. That failure again unless it is out of reach, there is a copy, the
// profile allows one of its age, its time is not to come, and what waits can be read.
core::Result<StandIn> stand_in(const Ports& ports, const core::Failure& why);

// What was or is to be read, of the record or else of its copy.
struct Reading final {
  std::unique_ptr<port::Unit> own;  // one of both
  std::optional<StandIn> copy;

  const port::Unit& unit() const { return own ? *own : copy->unit(); }
};
core::Result<Reading> begin_reading(const Ports& ports);

// The name of the zone that the office works in, of the record or else of its copy.
core::Result<std::string> zone_name_of(port::Store& store, port::LocalCopy* copy, const port::Clock& clock);

}  // namespace loadlight::app
