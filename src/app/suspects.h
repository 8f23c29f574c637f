// The packages of an incident's suspect range, one after another.
#pragma once

#include <functional>
#include <map>
#include <string>

#include "loadlight/app/incidents.h"

namespace loadlight::app {

struct SuspectRange final {
  core::Incident incident;
  std::map<core::PackageId, core::Accounting> accounted;
  std::map<std::string, std::string> contents;  // names by code
};

// IncidentUnknown.
core::Result<SuspectRange> range_of(const port::Unit& unit, int incident);

// Never in the chamber, or a label that is void: nothing to account for, so no suspect.
bool was_in_the_load(const core::Package& package);

Suspect suspect_of(const SuspectRange& range, const core::Package& package);

// By id or label's text. NotSuspect outside the range, PackageUnknown.
core::Result<core::Package> suspect_package(const Ports& ports, const port::Unit& unit,
                                            const core::Incident& incident, const std::string& reference);

// By run, print run and cell.
core::Result<void> visit_suspects(const port::Unit& unit, const SuspectRange& range,
                                  const std::function<void(const Suspect&)>& visit);

// Clears of one package that were given before the incident was known: `visit` sees each.
core::Result<void> visit_earlier_clears(const port::Unit& unit, const SuspectRange& range,
                                        const core::PackageId& package,
                                        const std::function<void(const EarlierClear&)>& visit);

}  // namespace loadlight::app
