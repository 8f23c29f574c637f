// Use case: everything that the record tells of one package, from its label to what became of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct PackageHistory final {
  core::Package package;
  std::optional<core::Load> load;
  std::optional<core::PrintRun> run;
  std::string contents_name;
  std::string kind_name;
  std::string location_name;            // where it was last known; empty when that was never said
  std::vector<core::PackageId> replaces;  // whose labels this one's took the place of
  std::vector<core::Incident> incidents;  // whose suspect range holds its load
  // Events about it, about its load and about whatever else names it, in the order of the ledger. Of readings
  // the details say also what was read: "place", "result" (pass, fail) or "test".
  std::vector<port::FoundEvent> events;
};

// Nothing when the record has no such package.
core::Result<std::optional<PackageHistory>> package_history(const port::Unit& unit, const core::PackageId& id);

}  // namespace loadlight::app
