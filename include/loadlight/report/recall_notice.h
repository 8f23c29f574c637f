// A recall as paper to walk the shelves with: what is to be found, by place, with a box to tick; what was
// opened, and for which visit; what was not found.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/incident.h"
#include "loadlight/core/package.h"
#include "loadlight/report/document.h"
#include "loadlight/report/load_record.h"

namespace loadlight::report {

struct SuspectPackage final {
  core::Package package;
  std::string contents;                          // its name
  std::string place;                             // the name of its last place; empty: none on record
  std::optional<core::Disposition> disposition;  // none: to be found
  std::string why;
  bool called_back = false;
};

struct RecallNoticeFacts final {
  std::string office;
  core::Incident incident;
  std::string sterilizer;
  std::string first_load;  // of the range as it stands; empty: no load in it
  std::string last_load;
  std::vector<SuspectPackage> packages;
  core::Instant printed_at{};
};

// Within a place oldest first, as shelves are kept.
Document recall_notice(const RecallNoticeFacts& facts, const RecordNames& names, const Words& words);

}  // namespace loadlight::report
