// The queries of the port over a record in memory, written as plainly as can be. Inside of memory_store.
#pragma once

#include "loadlight/port/store.h"
#include "memory_state.h"

namespace loadlight::store {

template <class T>
class MemoryCodes final : public port::Table<T> {
 public:
  MemoryCodes(const MemoryState::ByCode<T>& records, MemoryFaults& faults)
      : records_(records), faults_(faults) {}

  core::Result<std::optional<T>> find(std::string_view code) const override {
    if (const auto fault = faults_.strike()) return *fault;
    const auto found = records_.find(code);
    return found == records_.end() ? std::nullopt : std::optional{found->second};
  }
  core::Result<std::vector<T>> all() const override {
    if (const auto fault = faults_.strike()) return *fault;
    std::vector<T> all;
    for (const auto& [code, record] : records_) all.push_back(record);
    return all;
  }

 private:
  const MemoryState::ByCode<T>& records_;
  MemoryFaults& faults_;
};

class MemoryPackages final : public port::PackageTable {
 public:
  MemoryPackages(const MemoryState& state, MemoryFaults& faults) : state_(state), faults_(faults) {}

  core::Result<std::optional<core::Package>> find(const core::PackageId& id) const override;
  core::Result<std::vector<core::Package>> of_load(const core::LoadName& load) const override;
  core::Result<std::vector<core::Package>> of_print_run(int number) const override;
  core::Result<std::optional<core::Package>> oldest_ready(std::string_view contents, std::string_view kind,
                                                          core::CivilDate today) const override;
  core::Result<void> each(const std::function<void(const core::Package&)>& visit) const override;

 private:
  bool is_ready(const core::Package& package, core::CivilDate today) const;

  const MemoryState& state_;
  MemoryFaults& faults_;
};

class MemoryLoads final : public port::LoadTable {
 public:
  MemoryLoads(const MemoryState& state, MemoryFaults& faults) : state_(state), faults_(faults) {}

  core::Result<std::optional<core::Load>> find(const core::LoadName& name) const override;
  core::Result<std::vector<core::Load>> newest_of(std::string_view sterilizer, int limit) const override;
  core::Result<int> highest_number(std::string_view sterilizer) const override;
  core::Result<std::optional<core::Load>> first_reserved(std::string_view sterilizer) const override;
  core::Result<std::optional<core::Load>> with_counter(std::string_view sterilizer,
                                                       int counter) const override;

 private:
  std::vector<core::Load> of(std::string_view sterilizer) const;  // newest first

  const MemoryState& state_;
  MemoryFaults& faults_;
};

class MemoryEvidence final : public port::EvidenceTable {
 public:
  MemoryEvidence(const MemoryState& state, MemoryFaults& faults) : state_(state), faults_(faults) {}

  core::Result<std::vector<core::IndicatorReading>> indicators_of(const core::LoadName& load) const override;
  core::Result<std::vector<core::BiologicalReading>> biologicals_of(
      const core::LoadName& load) const override;
  core::Result<int> highest_indicator_number() const override;
  core::Result<int> highest_biological_number() const override;

 private:
  const MemoryState& state_;
  MemoryFaults& faults_;
};

class MemoryIncidents final : public port::IncidentTable {
 public:
  MemoryIncidents(const MemoryState& state, MemoryFaults& faults) : state_(state), faults_(faults) {}

  core::Result<std::vector<core::Incident>> open_ones() const override;
  core::Result<int> highest_number() const override;

 private:
  const MemoryState& state_;
  MemoryFaults& faults_;
};

class MemoryPrintRuns final : public port::PrintRunTable {
 public:
  MemoryPrintRuns(const MemoryState& state, MemoryFaults& faults) : state_(state), faults_(faults) {}

  core::Result<std::optional<core::PrintRun>> find(int number) const override;
  core::Result<int> highest_number() const override;

 private:
  const MemoryState& state_;
  MemoryFaults& faults_;
};

struct MemoryTables final {
  MemoryTables(const MemoryState& state, MemoryFaults& faults)
      : operators(state.operators, faults),
        sterilizers(state.sterilizers, faults),
        contents(state.contents, faults),
        kinds(state.kinds, faults),
        locations(state.locations, faults),
        stocks(state.stocks, faults),
        packages(state, faults),
        loads(state, faults),
        evidence(state, faults),
        incidents(state, faults),
        print_runs(state, faults) {}

  MemoryCodes<core::Operator> operators;
  MemoryCodes<core::Sterilizer> sterilizers;
  MemoryCodes<core::Contents> contents;
  MemoryCodes<core::PackageKind> kinds;
  MemoryCodes<core::Location> locations;
  MemoryCodes<core::LabelStock> stocks;
  MemoryPackages packages;
  MemoryLoads loads;
  MemoryEvidence evidence;
  MemoryIncidents incidents;
  MemoryPrintRuns print_runs;
};

}  // namespace loadlight::store
