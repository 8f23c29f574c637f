// Use case: the audits that stand in the ledger.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct PastAudit final {
  std::string audit;     // its name
  std::string location;  // code
  std::string source;    // what was swept
  std::string begun_by;  // operator code
  core::Instant begun_at{};
  std::optional<core::Instant> ended_at;  // none: cut off, or still going on
  // What the end counted.
  int packages = 0;
  int not_seen = 0;
  int unreadable = 0;
  // The newest of its location and source that has not ended: what `resume` goes on with.
  bool to_be_resumed = false;
};

// The newest `most`, newest first.
core::Result<std::vector<PastAudit>> newest_audits(const Ports& ports, std::size_t most);

}  // namespace loadlight::app
