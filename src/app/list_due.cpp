#include "loadlight/app/list_due.h"

#include <algorithm>
#include <limits>
#include <map>

#include "app/incident_moves.h"
#include "app/rules_in_force.h"
#include "loadlight/app/act.h"
#include "loadlight/core/biological.h"

namespace loadlight::app {
namespace {

using core::CivilDate;
using core::DueItem;
using core::LoadPurpose;
using core::LoadState;
using core::Result;

// How many loads of a sterilizer are looked at, newest first, until the answer is among them; the most are about a year
// of a busy one.
constexpr int kLooks[] = {10, 100, 2000};
constexpr int kMostLoads = 2000;
constexpr int kRunsAtOnce = 10;
constexpr int kMostPackages = 200;

// Gathers the items of everything looked at; the first failure ends it.
class DueList final {
 public:
  DueList(const Ports& ports, const port::Unit& unit, core::Profile profile, core::DueWindow window)
      : ports_(ports), unit_(unit), profile_(std::move(profile)), window_(window) {}

  Result<void> add_sterilizers();
  Result<void> add_loads();
  Result<void> add_incidents();
  Result<void> add_tables();
  std::vector<DueItem> sorted() const { return core::sorted(items_); }

 private:
  void add(std::vector<DueItem> items) { items_.insert(items_.end(), items.begin(), items.end()); }
  CivilDate day_of(core::Instant at) const { return ports_.zone.local_date(at); }
  Result<core::SterilizerDue> facts_of(const core::Sterilizer& sterilizer);
  Result<std::optional<CivilDate>> first_use_of(const std::string& sterilizer) const;
  Result<core::TestRhythm> rhythm_of(const std::string& sterilizer, LoadPurpose test) const;
  Result<void> add_biological(core::SterilizerDue& due);
  Result<bool> was_tested(const core::Load& load) const;
  Result<void> add_services(core::SterilizerDue& due);
  Result<void> look_for_what_followed(const std::string& sterilizer, core::Instant since, int loads,
                                      core::ServiceDemand& demand) const;
  Result<void> add_load(const core::Load& load);

  const Ports& ports_;
  const port::Unit& unit_;
  core::Profile profile_;
  core::DueWindow window_;
  std::vector<DueItem> items_;
};

std::string chain_of(const core::Profile& profile, const core::Load& load) {
  return profile.chains == core::BiologicalChains::PerProgram ? load.program : "";
}

void widen(core::TestRhythm& rhythm, CivilDate day) {
  rhythm.first_used = std::min(rhythm.first_used.value_or(day), day);
  rhythm.last_used = std::max(rhythm.last_used.value_or(day), day);
}

// Of loads of one purpose.
std::optional<CivilDate> latest_day(const std::vector<core::Load>& loads, bool only_released) {
  std::optional<CivilDate> latest;
  for (const core::Load& load : loads) {
    if (!load.process_date || (only_released && load.state != LoadState::Released)) continue;
    latest = std::max(latest.value_or(*load.process_date), *load.process_date);
  }
  return latest;
}

// A result that is lost or proves nothing is no test: the next one is due as if it had not been run.
bool counts_as_run(const std::optional<core::BiologicalStanding>& standing) {
  return !standing || *standing == core::BiologicalStanding::Negative ||
         *standing == core::BiologicalStanding::Positive;
}

Result<std::optional<CivilDate>> DueList::first_use_of(const std::string& sterilizer) const {
  const auto last = unit_.loads().highest_run(sterilizer);
  if (!last) return last.failure();
  for (int run = 1; run <= *last; run += kRunsAtOnce) {
    const auto loads = unit_.loads().of_runs({sterilizer, run, run + kRunsAtOnce - 1, {}});
    if (!loads) return loads.failure();
    for (const core::Load& load : *loads) {
      if (load.purpose == LoadPurpose::Process && load.process_date) return load.process_date;
    }
  }
  return std::optional<CivilDate>{};
}

// When a kind of test last passed, beside the days the sterilizer was used.
Result<core::TestRhythm> DueList::rhythm_of(const std::string& sterilizer, LoadPurpose test) const {
  const auto newest = [&](LoadPurpose purpose, int limit) {
    return unit_.loads().of_purpose_before(sterilizer, purpose, std::numeric_limits<int>::max(), limit);
  };
  core::TestRhythm rhythm;
  const auto uses = newest(LoadPurpose::Process, kRunsAtOnce);
  if (!uses) return uses.failure();
  rhythm.last_used = latest_day(*uses, false);
  const auto first = first_use_of(sterilizer);
  if (!first) return first.failure();
  rhythm.first_used = *first;
  for (const int limit : kLooks) {
    const auto tests = newest(test, limit);
    if (!tests) return tests.failure();
    rhythm.last_run = latest_day(*tests, true);
    if (rhythm.last_run) break;
  }
  return rhythm;
}

Result<bool> DueList::was_tested(const core::Load& load) const {
  const auto runs = unit_.evidence().runs_of(load.name);
  if (!runs) return runs.failure();
  const auto readings = unit_.evidence().biologicals_of(load.name);
  if (!readings) return readings.failure();
  if (runs->empty() && readings->empty()) return false;
  return counts_as_run(core::standing_of(*runs, *readings, profile_));
}

// Where each program has its own chain, all loads are looked at: which programs there are shows in them alone.
Result<void> DueList::add_biological(core::SterilizerDue& due) {
  const bool pooled = profile_.chains == core::BiologicalChains::Pooled;
  std::map<std::string, core::TestRhythm> rhythms;
  for (const int looked_at : kLooks) {
    if (!pooled && looked_at != kMostLoads) continue;
    rhythms.clear();
    if (pooled) rhythms[""];
    const auto loads = unit_.loads().newest_of(due.code, looked_at);
    if (!loads) return loads.failure();
    for (const core::Load& load : *loads) {
      if (!load.process_date || (load.purpose != LoadPurpose::Process && load.purpose != LoadPurpose::Retest)) continue;
      core::TestRhythm& rhythm = rhythms[chain_of(profile_, load)];
      rhythm.program = chain_of(profile_, load);
      if (load.purpose == LoadPurpose::Process) widen(rhythm, *load.process_date);
      if (rhythm.last_run) continue;  // loads come newest first
      const auto tested = was_tested(load);
      if (!tested) return tested.failure();
      if (*tested) rhythm.last_run = *load.process_date;
    }
    if (pooled && rhythms[""].last_run) break;
  }
  for (auto& [program, rhythm] : rhythms) due.biological.push_back(rhythm);
  return {};
}

Result<void> DueList::look_for_what_followed(const std::string& sterilizer, core::Instant since, int looked_at,
                                             core::ServiceDemand& demand) const {
  const auto loads = unit_.loads().newest_of(sterilizer, looked_at);
  if (!loads) return loads.failure();
  for (const core::Load& load : *loads) {
    if (!load.started_at || *load.started_at <= since) continue;
    const bool air_removal = load.purpose == LoadPurpose::BowieDick && load.state == LoadState::Released;
    demand.air_removal_test_followed |= air_removal;
    if (demand.negative_biological_followed) continue;
    const auto readings = unit_.evidence().biologicals_of(load.name);
    if (!readings) return readings.failure();
    const auto runs = unit_.evidence().runs_of(load.name);
    if (!runs) return runs.failure();
    const auto standing = core::standing_of(*runs, *readings, profile_);
    demand.negative_biological_followed = standing == core::BiologicalStanding::Negative;
  }
  return {};
}

Result<void> DueList::add_services(core::SterilizerDue& due) {
  const auto services = unit_.services().of_sterilizer(due.code);
  if (!services) return services.failure();
  std::optional<core::ServiceEntry> asking;
  for (const core::ServiceEntry& entry : *services) {
    if (entry.next_due) due.next_service = entry.next_due;
    for (const core::ServiceRule& rule : core::all_service_rules()) {
      if (rule.kind == entry.kind && (rule.biological || rule.air_removal)) asking = entry;
    }
  }
  if (!asking) return {};
  core::ServiceDemand demand{asking->kind, day_of(asking->done_at), false, false};
  for (const int looked_at : kLooks) {
    if (demand.negative_biological_followed && demand.air_removal_test_followed) break;
    const auto ok = look_for_what_followed(due.code, asking->done_at, looked_at, demand);
    if (!ok) return ok;
  }
  due.demand = demand;
  return {};
}

Result<core::SterilizerDue> DueList::facts_of(const core::Sterilizer& sterilizer) {
  core::SterilizerDue due;
  due.code = sterilizer.code;
  due.removal = sterilizer.removal;
  due.in_service = sterilizer.in_service;
  due.retired = sterilizer.retired_on.has_value();
  const auto air_removal = rhythm_of(sterilizer.code, LoadPurpose::BowieDick);
  if (!air_removal) return air_removal.failure();
  due.air_removal = *air_removal;
  const auto leak = rhythm_of(sterilizer.code, LoadPurpose::Leak);
  if (!leak) return leak.failure();
  due.leak = *leak;
  if (const auto ok = add_biological(due); !ok) return ok.failure();
  if (const auto ok = add_services(due); !ok) return ok.failure();
  const auto open = unit_.evidence().open_runs();
  if (!open) return open.failure();
  for (const core::BiologicalRun& run : *open) {
    if (run.load.sterilizer == sterilizer.code)
      due.open_results.push_back({run.load.text(), day_of(run.due_at)});
  }
  return due;
}

Result<void> DueList::add_sterilizers() {
  const auto sterilizers = unit_.sterilizers().all();
  if (!sterilizers) return sterilizers.failure();
  for (const core::Sterilizer& sterilizer : *sterilizers) {
    const auto due = facts_of(sterilizer);
    if (!due) return due.failure();
    add(core::due_of(*due, profile_, window_));
  }
  return {};
}

Result<void> DueList::add_load(const core::Load& load) {
  const auto runs = unit_.evidence().runs_of(load.name);
  if (!runs) return runs.failure();
  const auto readings = unit_.evidence().biologicals_of(load.name);
  if (!readings) return readings.failure();
  core::LoadDue due{
      load.name.text(), load.state, load.process_date.value_or(window_.today), {}, false, false};
  for (const core::BiologicalRun& run : *runs) due.result_due = day_of(run.due_at);
  due.released_as_emergency = load.state == LoadState::Released && !load.emergency_reason.empty();
  const auto standing = core::standing_of(*runs, *readings, profile_);
  due.biological_known =
      standing == core::BiologicalStanding::Negative || standing == core::BiologicalStanding::Positive;
  add(core::due_of(due, window_));
  return {};
}

Result<void> DueList::add_loads() {
  for (const LoadState state : {LoadState::Running, LoadState::Finished, LoadState::Quarantined}) {
    const auto loads = unit_.loads().in_state(state);
    if (!loads) return loads.failure();
    for (const core::Load& load : *loads) {
      if (const auto ok = add_load(load); !ok) return ok;
    }
  }
  const auto emergencies = unit_.loads().released_as_emergency();
  if (!emergencies) return emergencies.failure();
  for (const core::Load& load : *emergencies) {
    if (const auto ok = add_load(load); !ok) return ok;
  }
  return {};
}

Result<void> DueList::add_incidents() {
  const auto open = unit_.incidents().open_ones();
  if (!open) return open.failure();
  for (const core::Incident& incident : *open) {
    const auto facts = app::facts_of(unit_, incident, ports_.clock.now());
    if (!facts) return facts.failure();
    add(core::due_of(core::IncidentDue{incident.number, day_of(incident.opened_at), core::steps(*facts)},
                     window_));
  }
  return {};
}

Result<void> DueList::add_tables() {
  const auto consumables = unit_.consumables().all();
  if (!consumables) return consumables.failure();
  for (const core::Consumable& lot : *consumables) add(core::due_of(lot, window_));
  const auto packages =
      unit_.packages().use_by_until(window_.today.plus_days(window_.near_days), kMostPackages);
  if (!packages) return packages.failure();
  for (const core::Package& package : *packages) {
    add(core::due_of(core::PackageDue{package.id.grouped(), *package.use_by}, window_));
  }
  const auto programs = unit_.programs().all();
  if (!programs) return programs.failure();
  for (const core::OfficeProgram& entered : *programs) {
    const auto program = program_in_force(unit_, entered.code, entered.sterilizer);
    if (!program) return program.failure();
    if (entered.retired_on || !*program || (**program).accepted) continue;
    add(core::due_of(core::ProgramDue{entered.code, day_of(entered.entered_at)}, window_));
  }
  return {};
}

}  // namespace

Result<std::vector<DueItem>> list_due(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto office = (**unit).office();
  if (!office) return office.failure();
  const auto profile = profile_in_force(**unit, *office);
  if (!profile) return profile.failure();
  const core::DueWindow window{ports.zone.local_date(ports.clock.now()), office->near_days};
  DueList list{ports, **unit, *profile, window};
  if (const auto ok = list.add_sterilizers(); !ok) return ok.failure();
  if (const auto ok = list.add_loads(); !ok) return ok.failure();
  if (const auto ok = list.add_incidents(); !ok) return ok.failure();
  if (const auto ok = list.add_tables(); !ok) return ok.failure();
  return list.sorted();
}

}  // namespace loadlight::app
