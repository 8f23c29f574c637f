#include "memory_tables.h"

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

namespace loadlight::store {
namespace {

using core::Load;
using core::LoadName;
using core::Package;

// The records of a map that `wanted` picks, in the order of their keys.
template <class Map, class Wanted>
auto picked(const Map& map, Wanted wanted) {
  std::vector<typename Map::mapped_type> records;
  for (const auto& [key, record] : map) {
    if (wanted(record)) records.push_back(record);
  }
  return records;
}

template <class Map, class Key>
std::optional<typename Map::mapped_type> found_in(const Map& map, const Key& key) {
  const auto found = map.find(key);
  return found == map.end() ? std::nullopt : std::optional{found->second};
}

template <class T>
int highest_in(const MemoryState::ByNumber<T>& records) {
  return records.empty() ? 0 : records.rbegin()->first;
}

void sort_by_label(std::vector<Package>& packages) {
  std::stable_sort(packages.begin(), packages.end(), [](const Package& a, const Package& b) {
    return std::tie(a.print_run, a.cell) < std::tie(b.print_run, b.cell);
  });
}

template <class T>
std::optional<T> last_of(const std::vector<T>& records) {
  return records.empty() ? std::nullopt : std::optional{records.back()};
}

template <class T>
std::optional<T> first_of(const std::vector<T>& records) {
  return records.empty() ? std::nullopt : std::optional{records.front()};
}

template <class T>
std::vector<T> cut(std::vector<T> found, port::SearchPage page) {
  const auto skipped = std::min(found.size(), static_cast<std::size_t>(page.skip));
  found.erase(found.begin(), found.begin() + static_cast<std::ptrdiff_t>(skipped));
  if (found.size() > static_cast<std::size_t>(page.limit)) found.erase(found.begin() + page.limit, found.end());
  return found;
}

void sort_by_run(std::vector<Load>& loads) {
  std::stable_sort(loads.begin(), loads.end(), [](const Load& a, const Load& b) { return a.run < b.run; });
}

std::vector<Load> in_runs(const MemoryState& state, const port::RunRange& runs) {
  auto loads = picked(state.loads, [&](const Load& load) {
    return load.name.sterilizer == runs.sterilizer && load.run && runs.first <= *load.run &&
           *load.run <= runs.last && (!runs.program || *runs.program == load.program);
  });
  sort_by_run(loads);
  return loads;
}

}  // namespace

core::Result<std::optional<Package>> MemoryPackages::find(const core::PackageId& id) const {
  if (const auto fault = faults_.strike()) return *fault;
  return found_in(state_.packages, id);
}

core::Result<std::vector<Package>> MemoryPackages::of_load(const LoadName& load) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto packages = picked(state_.packages, [&](const Package& package) { return package.load == load; });
  sort_by_label(packages);
  return packages;
}

core::Result<std::vector<Package>> MemoryPackages::of_print_run(int number) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto packages =
      picked(state_.packages, [&](const Package& package) { return package.print_run == number; });
  sort_by_label(packages);
  return packages;
}

bool MemoryPackages::is_ready(const Package& package, core::CivilDate today) const {
  const auto load = state_.loads.find(package.load);
  return package.state == core::PackageState::Loaded && !package.recalled &&
         (!package.use_by || *package.use_by >= today) && load != state_.loads.end() &&
         load->second.state == core::LoadState::Released;
}

core::Result<std::optional<Package>> MemoryPackages::oldest_ready(std::string_view contents,
                                                                  std::string_view kind,
                                                                  core::CivilDate today) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto ready = picked(state_.packages, [&](const Package& package) {
    return package.contents == contents && package.kind == kind && is_ready(package, today);
  });
  std::stable_sort(ready.begin(), ready.end(),
                   [](const Package& a, const Package& b) { return a.process_date < b.process_date; });
  return first_of(ready);
}

core::Result<void> MemoryPackages::of_runs(const port::RunRange& runs,
                                           const std::function<void(const Package&)>& visit) const {
  if (const auto fault = faults_.strike()) return *fault;
  for (const Load& load : in_runs(state_, runs)) {
    auto packages = picked(state_.packages, [&](const Package& one) { return one.load == load.name; });
    sort_by_label(packages);
    for (const Package& package : packages) visit(package);
  }
  return {};
}

core::Result<std::vector<Package>> MemoryPackages::at_location(std::string_view code) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto packages = picked(state_.packages, [&](const Package& one) {
    return one.state == core::PackageState::Loaded && one.location == code;
  });
  std::stable_sort(packages.begin(), packages.end(), [](const Package& a, const Package& b) {
    return a.process_date < b.process_date;
  });
  return packages;
}

core::Result<std::vector<Package>> MemoryPackages::use_by_until(core::CivilDate last, int limit) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto packages = picked(state_.packages, [&](const Package& one) {
    return one.use_by && *one.use_by <= last && is_ready(one, *one.use_by);
  });
  std::stable_sort(packages.begin(), packages.end(),
                   [](const Package& a, const Package& b) { return *a.use_by < *b.use_by; });
  if (packages.size() > static_cast<std::size_t>(limit)) {
    packages.erase(packages.begin() + limit, packages.end());
  }
  return packages;
}

core::Result<std::vector<Package>> MemoryPackages::replaced_by(const core::PackageId& id) const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.packages, [&](const Package& one) {
    return one.state == core::PackageState::Void && one.replaced_by == id;
  });
}

core::Result<std::vector<Package>> MemoryPackages::search(const port::PackageSearch& search,
                                                          port::SearchPage page) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto packages = picked(state_.packages, [&](const Package& one) {
    return (!search.id_part || one.id.text().find(*search.id_part) != std::string::npos) &&
           (!search.visit || one.visit == search.visit) && (!search.contents || one.contents == *search.contents) &&
           (!search.operator_code || one.operator_code == *search.operator_code) &&
           (!search.first || one.process_date >= *search.first) && (!search.last || one.process_date <= *search.last);
  });
  std::stable_sort(packages.begin(), packages.end(), [](const Package& a, const Package& b) {
    return a.process_date > b.process_date;
  });
  return cut(std::move(packages), page);
}

core::Result<void> MemoryPackages::each(const std::function<void(const Package&)>& visit) const {
  if (const auto fault = faults_.strike()) return *fault;
  const auto packages = state_.packages;
  for (const auto& [id, package] : packages) visit(package);
  return {};
}

core::Result<std::vector<Load>> MemoryLoads::released_as_emergency() const {
  if (const auto fault = faults_.strike()) return *fault;
  auto loads = picked(state_.loads, [](const Load& load) {
    return load.state == core::LoadState::Released && !load.emergency_reason.empty();
  });
  std::stable_sort(loads.begin(), loads.end(),
                   [](const Load& a, const Load& b) { return a.emergency_reason < b.emergency_reason; });
  return loads;
}

core::Result<std::vector<Load>> MemoryLoads::search(const port::LoadSearch& search,
                                                    port::SearchPage page) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto loads = picked(state_.loads, [&](const Load& one) {
    return (!search.sterilizer || one.name.sterilizer == *search.sterilizer) &&
           (!search.number || one.name.number == *search.number) &&
           (!search.decided_by || one.decided_by == *search.decided_by) &&
           (!search.first || (one.process_date && *one.process_date >= *search.first)) &&
           (!search.last || (one.process_date && *one.process_date <= *search.last));
  });
  std::stable_sort(loads.begin(), loads.end(), [](const Load& a, const Load& b) {
    if (a.process_date != b.process_date) return a.process_date > b.process_date;  // nothing is the least
    if (a.name.sterilizer != b.name.sterilizer) return a.name.sterilizer < b.name.sterilizer;
    return a.name.number > b.name.number;
  });
  return cut(std::move(loads), page);
}

std::vector<Load> MemoryLoads::of(std::string_view sterilizer) const {
  auto loads = picked(state_.loads, [&](const Load& load) { return load.name.sterilizer == sterilizer; });
  std::reverse(loads.begin(), loads.end());
  return loads;
}

core::Result<std::optional<Load>> MemoryLoads::find(const LoadName& name) const {
  if (const auto fault = faults_.strike()) return *fault;
  return found_in(state_.loads, name);
}

core::Result<std::vector<Load>> MemoryLoads::newest_of(std::string_view sterilizer, int limit) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto loads = of(sterilizer);
  if (loads.size() > static_cast<std::size_t>(limit)) loads.resize(static_cast<std::size_t>(limit));
  return loads;
}

core::Result<int> MemoryLoads::highest_number(std::string_view sterilizer) const {
  if (const auto fault = faults_.strike()) return *fault;
  const auto loads = of(sterilizer);
  return loads.empty() ? 0 : loads.front().name.number;
}

core::Result<std::optional<Load>> MemoryLoads::first_reserved(std::string_view sterilizer) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto loads = of(sterilizer);
  std::erase_if(loads, [](const Load& load) { return load.state != core::LoadState::Reserved; });
  return last_of(loads);
}

core::Result<std::optional<Load>> MemoryLoads::with_counter(std::string_view sterilizer, int counter) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto loads = of(sterilizer);
  std::erase_if(loads, [&](const Load& load) { return load.machine_counter != counter; });
  return first_of(loads);
}

core::Result<int> MemoryLoads::highest_run(std::string_view sterilizer) const {
  if (const auto fault = faults_.strike()) return *fault;
  int highest = 0;
  for (const Load& load : of(sterilizer)) highest = std::max(highest, load.run.value_or(0));
  return highest;
}

core::Result<std::vector<Load>> MemoryLoads::of_runs(const port::RunRange& runs) const {
  if (const auto fault = faults_.strike()) return *fault;
  return in_runs(state_, runs);
}

core::Result<std::vector<Load>> MemoryLoads::of_day(std::string_view sterilizer, core::CivilDate day) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto loads = of(sterilizer);
  std::erase_if(loads, [&](const Load& load) { return load.process_date != day; });
  sort_by_run(loads);
  return loads;
}

core::Result<void> MemoryLoads::of_days(core::CivilDate first, core::CivilDate last,
                                        const std::function<void(const Load&)>& visit) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto loads = picked(state_.loads, [&](const Load& load) {
    return load.process_date && first <= *load.process_date && *load.process_date <= last;
  });
  std::stable_sort(loads.begin(), loads.end(), [](const Load& a, const Load& b) {
    return std::tie(*a.process_date, a.name.sterilizer, a.run) <
           std::tie(*b.process_date, b.name.sterilizer, b.run);
  });
  for (const Load& load : loads) visit(load);
  return {};
}

core::Result<std::vector<Load>> MemoryLoads::of_purpose_before(std::string_view sterilizer,
                                                               core::LoadPurpose purpose, int run,
                                                               int limit) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto loads = of(sterilizer);
  std::erase_if(loads,
                [&](const Load& load) { return !load.run || *load.run >= run || load.purpose != purpose; });
  sort_by_run(loads);
  std::reverse(loads.begin(), loads.end());
  if (loads.size() > static_cast<std::size_t>(limit)) loads.resize(static_cast<std::size_t>(limit));
  return loads;
}

core::Result<std::vector<Load>> MemoryLoads::in_state(core::LoadState state) const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.loads, [&](const Load& load) { return load.state == state; });
}

core::Result<std::vector<Load>> MemoryLoads::retests_of(int incident) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto loads = picked(state_.loads, [&](const Load& load) { return load.run && load.retest_of == incident; });
  sort_by_run(loads);
  return loads;
}

core::Result<std::vector<core::IndicatorReading>> MemoryEvidence::indicators_of(const LoadName& load) const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.indicators, [&](const auto& reading) { return reading.load == load; });
}

core::Result<std::vector<core::BiologicalReading>> MemoryEvidence::biologicals_of(
    const LoadName& load) const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.biologicals, [&](const auto& reading) { return reading.load == load; });
}

core::Result<int> MemoryEvidence::highest_indicator_number() const {
  if (const auto fault = faults_.strike()) return *fault;
  return highest_in(state_.indicators);
}

core::Result<int> MemoryEvidence::highest_biological_number() const {
  if (const auto fault = faults_.strike()) return *fault;
  return highest_in(state_.biologicals);
}

core::Result<std::vector<core::BiologicalRun>> MemoryEvidence::runs_of(const LoadName& load) const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.biological_runs, [&](const auto& run) { return run.load == load; });
}

core::Result<std::optional<core::BiologicalRun>> MemoryEvidence::find_run(int number) const {
  if (const auto fault = faults_.strike()) return *fault;
  return found_in(state_.biological_runs, number);
}

core::Result<std::vector<core::BiologicalRun>> MemoryEvidence::open_runs() const {
  if (const auto fault = faults_.strike()) return *fault;
  auto runs = picked(state_.biological_runs, [&](const auto& run) {
    return std::none_of(state_.biologicals.begin(), state_.biologicals.end(),
                        [&](const auto& result) { return result.second.of_run == run.number; });
  });
  std::stable_sort(runs.begin(), runs.end(),
                   [](const auto& a, const auto& b) { return a.due_at < b.due_at; });
  return runs;
}

core::Result<int> MemoryEvidence::highest_run_number() const {
  if (const auto fault = faults_.strike()) return *fault;
  return highest_in(state_.biological_runs);
}

core::Result<std::vector<core::BiologicalReading>> MemoryEvidence::biologicals_of_sterilizer(
    std::string_view sterilizer) const {
  if (const auto fault = faults_.strike()) return *fault;
  auto results =
      picked(state_.biologicals, [&](const auto& one) { return one.load.sterilizer == sterilizer; });
  std::stable_sort(results.begin(), results.end(),
                   [](const auto& a, const auto& b) { return a.load.number < b.load.number; });
  return results;
}

core::Result<int> MemoryEvidence::newest_tested_before(std::string_view sterilizer, int load) const {
  if (const auto fault = faults_.strike()) return *fault;
  int newest = 0;
  const auto look_at = [&](const LoadName& name) {
    if (name.sterilizer == sterilizer && name.number < load) newest = std::max(newest, name.number);
  };
  for (const auto& [number, run] : state_.biological_runs) look_at(run.load);
  for (const auto& [number, reading] : state_.biologicals) look_at(reading.load);
  return newest;
}

core::Result<std::vector<core::LoadName>> MemoryEvidence::loads_of_lot(std::string_view lot) const {
  if (const auto fault = faults_.strike()) return *fault;
  std::set<core::LoadName> names;
  const auto add = [&](const auto& each) {
    if (each.lot == lot || each.control_lot == lot) names.insert(each.load);
  };
  for (const auto& [number, indicator] : state_.indicators) {
    if (indicator.lot == lot) names.insert(indicator.load);
  }
  for (const auto& [number, run] : state_.biological_runs) add(run);
  for (const auto& [number, reading] : state_.biologicals) add(reading);
  return std::vector<core::LoadName>{names.begin(), names.end()};
}

core::Result<std::optional<core::CycleLog>> MemoryEvidence::find_log(int number) const {
  if (const auto fault = faults_.strike()) return *fault;
  return found_in(state_.cycle_logs, number);
}

core::Result<int> MemoryEvidence::highest_log_number() const {
  if (const auto fault = faults_.strike()) return *fault;
  return highest_in(state_.cycle_logs);
}

core::Result<std::optional<core::Incident>> MemoryIncidents::find(int number) const {
  if (const auto fault = faults_.strike()) return *fault;
  return found_in(state_.incidents, number);
}

core::Result<std::vector<core::Incident>> MemoryIncidents::all() const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.incidents, [](const auto&) { return true; });
}

core::Result<std::vector<core::IncidentStep>> MemoryIncidentWork::steps_of(int incident) const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.incident_steps, [&](const auto& step) { return step.incident == incident; });
}

core::Result<int> MemoryIncidentWork::highest_step_number() const {
  if (const auto fault = faults_.strike()) return *fault;
  return highest_in(state_.incident_steps);
}

core::Result<std::vector<core::Accounting>> MemoryIncidentWork::accounted_in(int incident) const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.accountings, [&](const auto& one) { return one.incident == incident; });
}

core::Result<std::vector<core::ServiceEntry>> MemoryServices::of_sterilizer(std::string_view code) const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.services, [&](const auto& entry) { return entry.sterilizer == code; });
}

core::Result<int> MemoryServices::highest_number() const {
  if (const auto fault = faults_.strike()) return *fault;
  return highest_in(state_.services);
}

core::Result<std::vector<core::Incident>> MemoryIncidents::open_ones() const {
  if (const auto fault = faults_.strike()) return *fault;
  return picked(state_.incidents, [](const auto& one) { return one.state == core::IncidentState::Open; });
}

core::Result<int> MemoryIncidents::highest_number() const {
  if (const auto fault = faults_.strike()) return *fault;
  return highest_in(state_.incidents);
}

core::Result<std::optional<core::PrintRun>> MemoryPrintRuns::find(int number) const {
  if (const auto fault = faults_.strike()) return *fault;
  return found_in(state_.print_runs, number);
}

core::Result<int> MemoryPrintRuns::highest_number() const {
  if (const auto fault = faults_.strike()) return *fault;
  return highest_in(state_.print_runs);
}

}  // namespace loadlight::store
