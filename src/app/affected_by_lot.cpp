#include "app/affected_by_lot.h"

#include <algorithm>

#include "app/load_moves.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::LoadPurpose;
using core::Result;

// Every process load of these runs.
Result<void> add_processed(const port::Unit& unit, const port::RunRange& range, Runs& runs) {
  const auto loads = unit.loads().of_runs(range);
  if (!loads) return loads.failure();
  for (const core::Load& load : *loads) {
    if (load.purpose == LoadPurpose::Process) runs[range.sterilizer].insert(*load.run);
  }
  return {};
}

// What a daily test spoke for: loads after it, up to the next test of its kind.
Result<void> add_spoken_for(const port::Unit& unit, const core::Load& test, Runs& runs) {
  const auto newest = unit.loads().highest_run(test.name.sterilizer);
  if (!newest) return newest.failure();
  const auto later = unit.loads().of_runs({test.name.sterilizer, *test.run + 1, *newest, {}});
  if (!later) return later.failure();
  for (const core::Load& load : *later) {
    if (load.purpose == test.purpose) break;
    if (load.purpose == LoadPurpose::Process) runs[test.name.sterilizer].insert(*load.run);
  }
  return {};
}

Result<void> add_load(const port::Unit& unit, const core::LoadName& name, Runs& runs) {
  const auto load = find_load(unit, name);
  if (!load) return load.failure();
  if (!load->run) return {};
  switch (load->purpose) {
    case LoadPurpose::Process:
      runs[name.sterilizer].insert(*load->run);
      return {};
    case LoadPurpose::BowieDick:
    case LoadPurpose::Leak:
      return add_spoken_for(unit, *load, runs);
    case LoadPurpose::Retest:
      return {};  // holds no package; its evidence counts for nothing from now on
  }
  return add_processed(unit, {name.sterilizer, *load->run, *load->run, {}}, runs);
}

// ---- pouches

// Several lots that were entered at once stand in one subject, with blanks between.
bool names(const std::string& subject, const std::string& lot) {
  return (" " + subject + " ").find(" " + lot + " ") != std::string::npos;
}

// When a lot may have been in use. After a clock was put right that stood ahead, days before that prove little: from
// `doubted` on a label may have been printed at any time.
struct InUse final {
  core::Instant since{};
  std::optional<core::Instant> doubted;
};

Result<InUse> in_use(const port::Unit& unit, const std::string& lot) {
  const auto added = unit.find_events({{}, EventKind::ConsumableAdded, {}});
  if (!added) return added.failure();
  const auto entry = std::find_if(added->begin(), added->end(), [&](const auto& each) { return names(each.subject, lot); });
  if (entry == added->end()) return InUse{};
  const auto corrected = unit.find_events({{}, EventKind::ClockCorrected, {}});
  if (!corrected) return corrected.failure();
  InUse use{entry->at, {}};
  for (const auto& each : *corrected) {
    if (each.sequence < entry->sequence) continue;
    use.since = std::min(use.since, each.at);
    use.doubted = std::min(use.doubted.value_or(each.at), each.at);
  }
  return use;
}

// Codes of kinds that are surely no pouches.
Result<std::set<std::string>> other_kinds(const port::Unit& unit) {
  const auto kinds = unit.kinds().all();
  if (!kinds) return kinds.failure();
  std::set<std::string> others;
  for (const core::PackageKind& kind : *kinds) {
    if (kind.wrapping != core::Wrapping::Pouch) others.insert(kind.code);
  }
  return others;
}

}  // namespace

Result<LotEvidence> judged_by_lot(const port::Unit& unit, const std::string& lot) {
  const auto loads = unit.evidence().loads_of_lot(lot);
  if (!loads) return loads.failure();
  LotEvidence evidence;
  evidence.any = !loads->empty();
  for (const core::LoadName& name : *loads) {
    if (const auto ok = add_load(unit, name, evidence.runs); !ok) return ok.failure();
  }
  return evidence;
}

Result<std::vector<core::Package>> packed_in_lot(const Ports& ports, const port::Unit& unit, const core::Consumable& lot,
                                                 std::optional<core::Instant> until) {
  std::vector<core::Package> packages;
  if (lot.kind != core::ConsumableKind::Pouch) return packages;
  const auto use = in_use(unit, lot.lot);
  if (!use) return use.failure();
  const auto others = other_kinds(unit);
  if (!others) return others.failure();
  const core::CivilDate first = ports.zone.local_date(use->since);
  const auto fits = [&](const core::Package& package) {
    const core::CivilDate day = ports.zone.local_date(package.printed_at);
    const bool ended = lot.retired_on && day > *lot.retired_on && !(use->doubted && package.printed_at >= *use->doubted);
    return first <= day && !ended && (!until || package.printed_at <= *until);
  };
  const auto visited = unit.packages().each([&](const core::Package& package) {
    const bool is_void = package.state == core::PackageState::Void;
    if (!is_void && !others->contains(package.kind) && fits(package)) packages.push_back(package);
  });
  if (!visited) return visited.failure();
  return packages;
}

Result<Runs> runs_of_packages(const port::Unit& unit, const std::vector<core::Package>& packages) {
  std::set<core::LoadName> names;
  for (const core::Package& package : packages) {
    const bool lies_in_it = package.state == core::PackageState::Loaded || package.state == core::PackageState::Opened;
    if (lies_in_it) names.insert(package.load);
  }
  Runs runs;
  for (const core::LoadName& name : names) {
    const auto load = find_load(unit, name);
    if (!load) return load.failure();
    if (load->run) runs[name.sterilizer].insert(*load->run);
  }
  return runs;
}

}  // namespace loadlight::app
