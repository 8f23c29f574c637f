// Port: the queries of the record, table by table. All of them read, within a unit of port::Store.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/events.h"
#include "loadlight/core/result.h"

namespace loadlight::port {

// Reading one table of the record. `find` yields nothing for an unknown key; failures are the store's
// (damaged, unreachable). `all` is in the order of the keys.
template <class T>
class Table {
 public:
  virtual ~Table() = default;
  virtual core::Result<std::optional<T>> find(std::string_view code) const = 0;
  virtual core::Result<std::vector<T>> all() const = 0;
};

// Runs of one sterilizer (core::Load::run), both ends included.
struct RunRange final {
  std::string sterilizer;
  int first = 1;
  int last = 0;
  std::optional<std::string> program;  // none: any
};

// Which packages are wanted: every part that is given must fit. Days are those printed on the label.
struct PackageSearch final {
  std::optional<std::string> id_part{};  // stands in the id as it is
  std::optional<std::string> visit{};
  std::optional<std::string> contents{};
  std::optional<std::string> operator_code{};  // who printed the label
  std::optional<core::CivilDate> first{};      // process date, both included
  std::optional<core::CivilDate> last{};
};

// Which loads are wanted, likewise. Days are those on which they were started.
struct LoadSearch final {
  std::optional<std::string> sterilizer{};
  std::optional<int> number{};
  std::optional<std::string> decided_by{};
  std::optional<core::CivilDate> first{};
  std::optional<core::CivilDate> last{};
};

// A page of what is found.
struct SearchPage final {
  int skip = 0;
  int limit = 50;
};

class PackageTable {
 public:
  virtual ~PackageTable() = default;
  virtual core::Result<std::optional<core::Package>> find(const core::PackageId& id) const = 0;
  // Whose label names this load, whatever became of them; by print run and cell.
  virtual core::Result<std::vector<core::Package>> of_load(const core::LoadName& load) const = 0;
  virtual core::Result<std::vector<core::Package>> of_print_run(int number) const = 0;
  // Of these contents and kind, loaded, its load released, neither recalled nor past its use-by day
  // `today`: the one with the earliest process date, the smallest id among equals.
  virtual core::Result<std::optional<core::Package>> oldest_ready(std::string_view contents,
                                                                  std::string_view kind,
                                                                  core::CivilDate today) const = 0;
  // Of the loads that a sterilizer ran from run `first` to `last`, both included, of one program or, without
  // one, of any; whatever became of them, by run, print run and cell. `visit` sees each once; memory stays
  // bounded.
  virtual core::Result<void> of_runs(const RunRange& runs,
                                     const std::function<void(const core::Package&)>& visit) const = 0;
  // Loaded, its load released, not recalled, its use-by day on or before `last`: by that day and id, the
  // first `limit` of them.
  virtual core::Result<std::vector<core::Package>> use_by_until(core::CivilDate last, int limit) const = 0;
  // Loaded, last known at this location, whatever became of their load; by process date and id.
  virtual core::Result<std::vector<core::Package>> at_location(std::string_view code) const = 0;
  // Void, and replaced by this one; by id.
  virtual core::Result<std::vector<core::Package>> replaced_by(const core::PackageId& id) const = 0;
  // The latest process date first, by id within a day. Without a visit it walks all packages; memory holds a page.
  virtual core::Result<std::vector<core::Package>> search(const PackageSearch& search,
                                                          SearchPage page) const = 0;
  // Every package, in batches by id: `visit` sees each once; memory stays bounded.
  virtual core::Result<void> each(const std::function<void(const core::Package&)>& visit) const = 0;
};

class LoadTable {
 public:
  virtual ~LoadTable() = default;
  virtual core::Result<std::optional<core::Load>> find(const core::LoadName& name) const = 0;
  // Of one sterilizer, by number, the newest `limit` of them.
  virtual core::Result<std::vector<core::Load>> newest_of(std::string_view sterilizer, int limit) const = 0;
  // The highest number given out for a sterilizer; 0 if none.
  virtual core::Result<int> highest_number(std::string_view sterilizer) const = 0;
  // The lowest-numbered load of a sterilizer that is still reserved.
  virtual core::Result<std::optional<core::Load>> first_reserved(std::string_view sterilizer) const = 0;
  // The load of a sterilizer that carries this machine counter.
  virtual core::Result<std::optional<core::Load>> with_counter(std::string_view sterilizer,
                                                               int counter) const = 0;
  // The highest run of a sterilizer; 0 if it never started a load.
  virtual core::Result<int> highest_run(std::string_view sterilizer) const = 0;
  // By run.
  virtual core::Result<std::vector<core::Load>> of_runs(const RunRange& runs) const = 0;
  // Started on this day, by run.
  virtual core::Result<std::vector<core::Load>> of_day(std::string_view sterilizer,
                                                       core::CivilDate day) const = 0;
  // Started from `first` to `last`, both included: by day, sterilizer and run. Memory stays bounded.
  virtual core::Result<void> of_days(core::CivilDate first, core::CivilDate last,
                                     const std::function<void(const core::Load&)>& visit) const = 0;
  // Of this purpose, started before run `run` (that one not included): newest run first, `limit` of them.
  virtual core::Result<std::vector<core::Load>> of_purpose_before(std::string_view sterilizer,
                                                                  core::LoadPurpose purpose, int run,
                                                                  int limit) const = 0;
  // In this state, by sterilizer and number.
  virtual core::Result<std::vector<core::Load>> in_state(core::LoadState state) const = 0;
  // Released, with a reason why that was an emergency: by reason, sterilizer and number.
  virtual core::Result<std::vector<core::Load>> released_as_emergency() const = 0;
  // The latest process date first, by sterilizer and the highest number within a day; those not started last.
  // Walks all loads; memory holds a page.
  virtual core::Result<std::vector<core::Load>> search(const LoadSearch& search, SearchPage page) const = 0;
  // Retests for an incident, by run; those not started are left out.
  virtual core::Result<std::vector<core::Load>> retests_of(int incident) const = 0;
};

class EvidenceTable {
 public:
  virtual ~EvidenceTable() = default;
  // By number, all of one load.
  virtual core::Result<std::vector<core::IndicatorReading>> indicators_of(const core::LoadName&) const = 0;
  virtual core::Result<std::vector<core::BiologicalReading>> biologicals_of(const core::LoadName&) const = 0;
  virtual core::Result<int> highest_indicator_number() const = 0;
  virtual core::Result<int> highest_biological_number() const = 0;
  // Biological indicators that were run, by number.
  virtual core::Result<std::vector<core::BiologicalRun>> runs_of(const core::LoadName&) const = 0;
  virtual core::Result<std::optional<core::BiologicalRun>> find_run(int number) const = 0;
  // Without any result yet, by due time.
  virtual core::Result<std::vector<core::BiologicalRun>> open_runs() const = 0;
  virtual core::Result<int> highest_run_number() const = 0;
  // All results of one sterilizer's loads, by load number and number.
  virtual core::Result<std::vector<core::BiologicalReading>> biologicals_of_sterilizer(
      std::string_view sterilizer) const = 0;
  // The highest-numbered load of a sterilizer, below number `load`, that a biological indicator was run in or has a
  // result; 0 if none.
  virtual core::Result<int> newest_tested_before(std::string_view sterilizer, int load) const = 0;
  // Loads with an indicator of this lot, chemical or biological, its control's included; by name, each once. Walks
  // all evidence.
  virtual core::Result<std::vector<core::LoadName>> loads_of_lot(std::string_view lot) const = 0;
  virtual core::Result<std::optional<core::CycleLog>> find_log(int number) const = 0;
  virtual core::Result<int> highest_log_number() const = 0;
};

class IncidentTable {
 public:
  virtual ~IncidentTable() = default;
  virtual core::Result<std::optional<core::Incident>> find(int number) const = 0;
  virtual core::Result<std::vector<core::Incident>> all() const = 0;  // by number
  virtual core::Result<std::vector<core::Incident>> open_ones() const = 0;
  virtual core::Result<int> highest_number() const = 0;
};

class IncidentWorkTable {
 public:
  virtual ~IncidentWorkTable() = default;
  // Steps done, by number.
  virtual core::Result<std::vector<core::IncidentStep>> steps_of(int incident) const = 0;
  virtual core::Result<int> highest_step_number() const = 0;
  // Packages accounted for, by id.
  virtual core::Result<std::vector<core::Accounting>> accounted_in(int incident) const = 0;
};

class ServiceTable {
 public:
  virtual ~ServiceTable() = default;
  virtual core::Result<std::vector<core::ServiceEntry>> of_sterilizer(
      std::string_view code) const = 0;  // by number
  virtual core::Result<int> highest_number() const = 0;
};

class PrintRunTable {
 public:
  virtual ~PrintRunTable() = default;
  virtual core::Result<std::optional<core::PrintRun>> find(int number) const = 0;
  virtual core::Result<int> highest_number() const = 0;
};

}  // namespace loadlight::port
