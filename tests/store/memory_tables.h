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
  core::Result<void> of_runs(const port::RunRange& runs,
                             const std::function<void(const core::Package&)>& visit) const override;
  core::Result<std::vector<core::Package>> use_by_until(core::CivilDate last, int limit) const override;
  core::Result<std::vector<core::Package>> at_location(std::string_view code) const override;
  core::Result<std::vector<core::Package>> replaced_by(const core::PackageId& id) const override;
  core::Result<std::vector<core::Package>> search(const port::PackageSearch& search,
                                                  port::SearchPage page) const override;
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
  core::Result<int> highest_run(std::string_view sterilizer) const override;
  core::Result<std::vector<core::Load>> of_runs(const port::RunRange& runs) const override;
  core::Result<std::vector<core::Load>> of_day(std::string_view sterilizer,
                                               core::CivilDate day) const override;
  core::Result<void> of_days(core::CivilDate first, core::CivilDate last,
                             const std::function<void(const core::Load&)>& visit) const override;
  core::Result<std::vector<core::Load>> of_purpose_before(std::string_view sterilizer,
                                                          core::LoadPurpose purpose, int run,
                                                          int limit) const override;
  core::Result<std::vector<core::Load>> in_state(core::LoadState state) const override;
  core::Result<std::vector<core::Load>> released_as_emergency() const override;
  core::Result<std::vector<core::Load>> search(const port::LoadSearch& search,
                                               port::SearchPage page) const override;
  core::Result<std::vector<core::Load>> retests_of(int incident) const override;

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
  core::Result<std::vector<core::BiologicalRun>> runs_of(const core::LoadName& load) const override;
  core::Result<std::optional<core::BiologicalRun>> find_run(int number) const override;
  core::Result<std::vector<core::BiologicalRun>> open_runs() const override;
  core::Result<int> highest_run_number() const override;
  core::Result<std::vector<core::BiologicalReading>> biologicals_of_sterilizer(
      std::string_view sterilizer) const override;
  core::Result<int> newest_tested_before(std::string_view sterilizer, int load) const override;
  core::Result<std::vector<core::LoadName>> loads_of_lot(std::string_view lot) const override;
  core::Result<std::optional<core::CycleLog>> find_log(int number) const override;
  core::Result<int> highest_log_number() const override;

 private:
  const MemoryState& state_;
  MemoryFaults& faults_;
};

class MemoryIncidents final : public port::IncidentTable {
 public:
  MemoryIncidents(const MemoryState& state, MemoryFaults& faults) : state_(state), faults_(faults) {}

  core::Result<std::optional<core::Incident>> find(int number) const override;
  core::Result<std::vector<core::Incident>> all() const override;
  core::Result<std::vector<core::Incident>> open_ones() const override;
  core::Result<int> highest_number() const override;

 private:
  const MemoryState& state_;
  MemoryFaults& faults_;
};

class MemoryIncidentWork final : public port::IncidentWorkTable {
 public:
  MemoryIncidentWork(const MemoryState& state, MemoryFaults& faults) : state_(state), faults_(faults) {}

  core::Result<std::vector<core::IncidentStep>> steps_of(int incident) const override;
  core::Result<int> highest_step_number() const override;
  core::Result<std::vector<core::Accounting>> accounted_in(int incident) const override;

 private:
  const MemoryState& state_;
  MemoryFaults& faults_;
};

class MemoryServices final : public port::ServiceTable {
 public:
  MemoryServices(const MemoryState& state, MemoryFaults& faults) : state_(state), faults_(faults) {}

  core::Result<std::vector<core::ServiceEntry>> of_sterilizer(std::string_view code) const override;
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
        print_runs(state, faults),
        programs(state.programs, faults),
        consumables(state.consumables, faults),
        settings(state.settings, faults),
        incident_work(state, faults),
        services(state, faults) {}

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
  MemoryCodes<core::OfficeProgram> programs;
  MemoryCodes<core::Consumable> consumables;
  MemoryCodes<core::OfficeSetting> settings;
  MemoryIncidentWork incident_work;
  MemoryServices services;
};

}  // namespace loadlight::store
