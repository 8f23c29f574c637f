// Use cases: once the record is back, what was done without it is written, each act once; and the openings that it speaks
// against are listed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/core/reasons.h"

namespace loadlight::app {

// Details of their events: an act's own name, the age in minutes of the copy that it was judged by, the visit.
inline constexpr const char* kQueuedDetail = "queued";
inline constexpr const char* kCopyDetail = "copy";
inline constexpr const char* kVisitDetail = "visit";
// The subject of all events of kind opening-contradicted.
inline constexpr const char* kOpeningsSubject = "openings";

// A package that was opened while the record could not be reached, although the record says otherwise.
struct ContradictedOpening final {
  std::string package;  // id
  core::Instant at{};   // opened
  std::string operator_code;
  std::string visit;                  // may be empty
  std::vector<core::Reason> reasons;  // worst first
};

struct QueueReply final {
  int written = 0;
  std::vector<ContradictedOpening> contradicted;  // of those written now
};

// Writes what waits, in its order, with its own times and operators. What is in the record already is not written
// again. An opening is a fact and written whatever the record says of the package. OfficeUnreadable while the record cannot
// be reached; what was written until then is, and the rest waits.
core::Result<QueueReply> write_queued(const Ports& ports);

// All of the record, in the order in which they were written.
core::Result<std::vector<ContradictedOpening>> contradicted_openings(const Ports& ports);

}  // namespace loadlight::app
