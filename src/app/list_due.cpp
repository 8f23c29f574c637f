#include "loadlight/app/list_due.h"

#include <algorithm>
#include <functional>
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
constexpr int kMostLoads = 2000;
constexpr int kLooks[] = {10, 100, kMostLoads};
constexpr int kRunsAtOnce = 10;
// Loads are numbered as they are opened and may start in another order.
constexpr int kOutOfOrder = 10;
constexpr int kAnyRun = std::numeric_limits<int>::max();
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
  Result<core::TestRhythm> uses_of(const std::string& sterilizer) const;
  Result<std::map<std::string, core::TestRhythm>> uses_by_program(const std::string& sterilizer) const;
  Result<std::optional<CivilDate>> last_passed(const std::string& sterilizer, LoadPurpose test) const;
  using Tested = std::function<bool(const core::Load&, std::optional<core::BiologicalStanding>)>;
  Result<void> each_tested(const std::string& sterilizer, const Tested& goes_on) const;
  Result<void> add_biological(core::SterilizerDue& due, const core::TestRhythm& uses);
  Result<void> add_services(core::SterilizerDue& due);
  Result<bool> air_removal_passed_since(const std::string& sterilizer, core::Instant since) const;
  Result<bool> was_negative_since(const std::string& sterilizer, core::Instant since) const;
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

bool can_carry_a_test(const core::Load& load) {
  return load.process_date && (load.purpose == LoadPurpose::Process || load.purpose == LoadPurpose::Retest);
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

// On which days it was used; when it was tested is not said.
Result<core::TestRhythm> DueList::uses_of(const std::string& sterilizer) const {
  core::TestRhythm uses;
  const auto newest = unit_.loads().of_purpose_before(sterilizer, LoadPurpose::Process, kAnyRun, kRunsAtOnce);
  if (!newest) return newest.failure();
  uses.last_used = latest_day(*newest, false);
  const auto first = first_use_of(sterilizer);
  if (!first) return first.failure();
  uses.first_used = *first;
  return uses;
}

// Which programs there are shows in the loads alone.
Result<std::map<std::string, core::TestRhythm>> DueList::uses_by_program(const std::string& sterilizer) const {
  const auto loads = unit_.loads().newest_of(sterilizer, kMostLoads);
  if (!loads) return loads.failure();
  std::map<std::string, core::TestRhythm> rhythms;
  for (const core::Load& load : *loads) {
    if (!can_carry_a_test(load)) continue;
    core::TestRhythm& rhythm = rhythms[load.program];
    rhythm.program = load.program;
    if (load.purpose == LoadPurpose::Process) widen(rhythm, *load.process_date);
  }
  return rhythms;
}

Result<std::optional<CivilDate>> DueList::last_passed(const std::string& sterilizer, LoadPurpose test) const {
  std::optional<CivilDate> latest;
  for (const int limit : kLooks) {
    const auto tests = unit_.loads().of_purpose_before(sterilizer, test, kAnyRun, limit);
    if (!tests) return tests.failure();
    latest = latest_day(*tests, true);
    if (latest) break;
  }
  return latest;
}

// Loads that a biological indicator was run in, newest first.
Result<void> DueList::each_tested(const std::string& sterilizer, const Tested& goes_on) const {
  int number = core::LoadName::kLastNumber + 1;
  while (true) {
    const auto next = unit_.evidence().newest_tested_before(sterilizer, number);
    if (!next) return next.failure();
    if (*next == 0) return {};
    number = *next;
    const auto load = unit_.loads().find({sterilizer, number});
    if (!load) return load.failure();
    if (!*load) continue;
    const auto runs = unit_.evidence().runs_of((**load).name);
    if (!runs) return runs.failure();
    const auto readings = unit_.evidence().biologicals_of((**load).name);
    if (!readings) return readings.failure();
    if (!goes_on(**load, core::standing_of(*runs, *readings, profile_))) return {};
  }
}

Result<void> DueList::add_biological(core::SterilizerDue& due, const core::TestRhythm& uses) {
  std::map<std::string, core::TestRhythm> rhythms{{"", uses}};
  if (profile_.chains == core::BiologicalChains::PerProgram) {
    auto by_program = uses_by_program(due.code);
    if (!by_program) return by_program.failure();
    rhythms = std::move(*by_program);
  }
  std::size_t waiting = rhythms.size();
  const auto ok = each_tested(due.code, [&](const core::Load& load, std::optional<core::BiologicalStanding> standing) {
    const auto found = rhythms.find(chain_of(profile_, load));
    if (found == rhythms.end() || !can_carry_a_test(load) || found->second.last_run || !counts_as_run(standing)) return true;
    found->second.last_run = *load.process_date;
    return --waiting > 0;
  });
  if (!ok) return ok;
  for (auto& [program, rhythm] : rhythms) due.biological.push_back(rhythm);
  return {};
}

Result<bool> DueList::air_removal_passed_since(const std::string& sterilizer, core::Instant since) const {
  for (const int limit : kLooks) {
    const auto tests = unit_.loads().of_purpose_before(sterilizer, LoadPurpose::BowieDick, kAnyRun, limit);
    if (!tests) return tests.failure();
    for (const core::Load& load : *tests) {
      if (load.state == LoadState::Released && load.started_at && *load.started_at > since) return true;
    }
  }
  return false;
}

Result<bool> DueList::was_negative_since(const std::string& sterilizer, core::Instant since) const {
  bool negative = false;
  int before = 0;
  const auto ok = each_tested(sterilizer, [&](const core::Load& load, std::optional<core::BiologicalStanding> standing) {
    const bool after = load.started_at && *load.started_at > since;
    before += after ? 0 : 1;
    negative = after && standing == core::BiologicalStanding::Negative;
    return !negative && before < kOutOfOrder;
  });
  if (!ok) return ok.failure();
  return negative;
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
  const auto passed = air_removal_passed_since(due.code, asking->done_at);
  if (!passed) return passed.failure();
  demand.air_removal_test_followed = *passed;
  const auto negative = was_negative_since(due.code, asking->done_at);
  if (!negative) return negative.failure();
  demand.negative_biological_followed = *negative;
  due.demand = demand;
  return {};
}

Result<core::SterilizerDue> DueList::facts_of(const core::Sterilizer& sterilizer) {
  core::SterilizerDue due;
  due.code = sterilizer.code;
  due.removal = sterilizer.removal;
  due.in_service = sterilizer.in_service;
  due.retired = sterilizer.retired_on.has_value();
  const auto uses = uses_of(sterilizer.code);
  if (!uses) return uses.failure();
  for (const auto& [test, rhythm] : {std::pair{LoadPurpose::BowieDick, &due.air_removal}, {LoadPurpose::Leak, &due.leak}}) {
    const auto passed = last_passed(sterilizer.code, test);
    if (!passed) return passed.failure();
    *rhythm = *uses;
    rhythm->last_run = *passed;
  }
  if (const auto ok = add_biological(due, *uses); !ok) return ok.failure();
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
