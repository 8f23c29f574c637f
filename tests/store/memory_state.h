// What a record in memory holds, and how it takes changes. Inside of memory_store.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "loadlight/core/events.h"
#include "loadlight/core/failure.h"

namespace loadlight::store {

// Which call of the port fails.
struct MemoryFaults final {
  int breaks = 0;  // 0: none
  int calls = 0;
  core::Failure failure{};

  std::optional<core::Failure> strike() {
    ++calls;
    return calls == breaks ? std::optional{failure} : std::nullopt;
  }
};

struct MemoryState final {
  template <class T>
  using ByCode = std::map<std::string, T, std::less<>>;
  template <class T>
  using ByNumber = std::map<int, T>;

  std::optional<core::Office> office;
  ByCode<core::Operator> operators;
  ByCode<core::Sterilizer> sterilizers;
  ByCode<core::Contents> contents;
  ByCode<core::PackageKind> kinds;
  ByCode<core::Location> locations;
  ByCode<core::LabelStock> stocks;
  std::map<core::PackageId, core::Package> packages;
  std::map<core::LoadName, core::Load> loads;
  ByNumber<core::IndicatorReading> indicators;
  ByNumber<core::BiologicalReading> biologicals;
  ByNumber<core::Incident> incidents;
  ByNumber<core::PrintRun> print_runs;
  ByCode<core::OfficeProgram> programs;
  ByCode<core::Consumable> consumables;
  ByCode<core::OfficeSetting> settings;
  ByNumber<core::ServiceEntry> services;
  ByNumber<core::BiologicalRun> biological_runs;
  ByNumber<core::CycleLog> cycle_logs;
  ByNumber<core::IncidentStep> incident_steps;
  std::map<std::pair<int, core::PackageId>, core::Accounting> accountings;
  std::vector<core::Change> changes;  // without their records
  std::vector<std::string> named;     // by each change: the texts that may name a package
  std::vector<core::LedgerEntry> entries;
  std::optional<core::Instant> newest_at;

  void keep(const core::Record& record);
  // Something that a record names and the record does not hold: "contents X"; nothing when all is there.
  std::optional<std::string> dangling_reference() const;
};

}  // namespace loadlight::store
