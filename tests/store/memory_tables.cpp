#include "memory_tables.h"

#include <algorithm>
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

core::Result<void> MemoryPackages::each(const std::function<void(const Package&)>& visit) const {
  if (const auto fault = faults_.strike()) return *fault;
  const auto packages = state_.packages;
  for (const auto& [id, package] : packages) visit(package);
  return {};
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
