#include "app/load_facts.h"

#include <algorithm>

#include "app/clock_trust.h"
#include "app/recalled_lots.h"
#include "app/rules_in_force.h"
#include "loadlight/app/act.h"
#include "loadlight/core/cycle_text.h"

namespace loadlight::app {
namespace {

using core::LoadFacts;
using core::LoadPurpose;
using core::LoadState;
using core::Result;

// In type N practice items are packed after the program, and went through it unwrapped. What had its label
// when the load started was inside as it is. Asked of type N alone: a clock that stood wrong must not turn a
// wrapped package of another sterilizer into one that needs no drying.
bool was_packed_after(const core::Load& load, const core::Package& package) {
  return load.started_at && package.printed_at > *load.started_at;
}

// Gathers what lies in a load; a row that is missing leaves the facts absent.
class Aboard final {
 public:
  Aboard(const core::Load& load, std::optional<core::SterilizerType> type)
      : load_(load), type_n_(type == core::SterilizerType::N), implant_(load.implant_aboard) {}

  Result<void> add(const port::Unit& unit, const core::Package& package) {
    wet_ += package.withdrawn_because == core::WithdrawReason::Wet;
    if (package.state == core::PackageState::Labelled || package.state == core::PackageState::Void) return {};
    const auto kind = unit.kinds().find(package.kind);
    if (!kind) return kind.failure();
    whole_ = whole_ && kind->has_value();
    wrapped_ = wrapped_ || (*kind && core::is_wrapped((**kind).wrapping) &&
                            !(type_n_ && was_packed_after(load_, package)));
    return add_contents(unit, package.contents);
  }

  Result<void> add_contents(const port::Unit& unit, const std::string& code) {
    const auto contents = unit.contents().find(code);
    if (!contents) return contents.failure();
    whole_ = whole_ && contents->has_value();
    hollow_ = hollow_ || (*contents && (**contents).hollow);
    implant_ = implant_ || (*contents && (**contents).implant);
    return {};
  }

  void tell(LoadFacts& facts) const {
    if (!whole_) return;
    facts.holds_wrapped = wrapped_;
    facts.holds_hollow = hollow_;
    facts.holds_implant = implant_;
    facts.wet_packages = wet_;
  }

 private:
  const core::Load& load_;
  bool type_n_;
  bool whole_ = true, wrapped_ = false, hollow_ = false, implant_;
  int wet_ = 0;
};

Result<void> look_aboard(const port::Unit& unit, const core::Load& load, LoadFacts& facts) {
  const auto packages = unit.packages().of_load(load.name);
  if (!packages) return packages.failure();
  Aboard aboard{load, facts.type};
  for (const core::Package& package : *packages) {
    if (const auto ok = aboard.add(unit, package); !ok) return ok;
  }
  for (const core::LooseItems& line : load.loose_items) {
    if (const auto ok = aboard.add_contents(unit, line.contents); !ok) return ok;
  }
  aboard.tell(facts);
  return {};
}

Result<void> look_at_evidence(const port::Unit& unit, const core::Load& load, LoadFacts& facts) {
  facts.readings = load.readings;
  facts.leak = load.leak;
  const auto indicators = unit.evidence().indicators_of(load.name);
  if (!indicators) return indicators.failure();
  const auto runs = unit.evidence().runs_of(load.name);
  if (!runs) return runs.failure();
  const auto biologicals = unit.evidence().biologicals_of(load.name);
  if (!biologicals) return biologicals.failure();
  facts.indicators = *indicators;
  facts.biological_runs = *runs;
  facts.biologicals = *biologicals;
  const auto recalled = recalled_among(unit, facts);
  if (!recalled) return recalled.failure();
  facts.recalled_lots = *recalled;
  if (!load.cycle_log) return {};
  facts.has_log = true;
  const auto log = unit.evidence().find_log(*load.cycle_log);
  if (!log) return log.failure();
  if (*log) facts.log = core::parse_findings((**log).findings);
  return {};
}

Result<void> look_at_sterilizer(const port::Unit& unit, const core::Load& load, LoadFacts& facts) {
  const auto sterilizer = unit.sterilizers().find(load.name.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  if (!*sterilizer) return {};
  facts.removal = (**sterilizer).removal;
  facts.type = (**sterilizer).type;
  facts.in_service = (**sterilizer).in_service;
  if (!facts.profile || !load.process_date || !load.run) return {};
  const auto tests = daily_test_before(unit, *facts.profile, **sterilizer, *load.process_date, *load.run);
  if (!tests) return tests.failure();
  facts.daily_test = *tests;
  return {};
}

Result<void> look_at_incidents(const port::Unit& unit, const core::Load& load, LoadFacts& facts) {
  const auto open = unit.incidents().open_ones();
  if (!open) return open.failure();
  facts.in_open_incident =
      std::any_of(open->begin(), open->end(), [&](const auto& incident) { return incident.covers(load); });
  return {};
}

// Did the newest test of this purpose before the run fail, whenever that was?
Result<bool> failed_before(const port::Unit& unit, const std::string& sterilizer, LoadPurpose purpose,
                           int run) {
  const auto tests = unit.loads().of_purpose_before(sterilizer, purpose, run, 1);
  if (!tests) return tests.failure();
  if (tests->empty()) return false;
  const LoadState state = tests->front().state;
  return state == LoadState::Failed || state == LoadState::Aborted || state == LoadState::Revoked;
}

// Did a test of this purpose pass that day before the run? One whose day is in doubt may be another day's; a sheet of
// a lot that was called back proves nothing.
Result<bool> passed_before(const port::Unit& unit, const std::vector<core::Load>& of_day, LoadPurpose purpose,
                           int run) {
  for (const core::Load& load : of_day) {
    if (load.purpose != purpose || !load.run || *load.run >= run || load.state != LoadState::Released) continue;
    const auto doubt = doubt_about(unit, load.name);
    if (!doubt) return doubt.failure();
    const auto recalled = reads_recalled_lot(unit, load.name);
    if (!recalled) return recalled.failure();
    if (doubt->count() == 0 && !*recalled) return true;
  }
  return false;
}

}  // namespace

Result<core::DailyTest> daily_test_before(const port::Unit& unit, const core::Profile& profile,
                                          const core::Sterilizer& sterilizer, core::CivilDate day, int run) {
  if (sterilizer.removal != core::AirRemoval::Dynamic) return core::DailyTest::NotAsked;
  for (const LoadPurpose purpose : {LoadPurpose::BowieDick, LoadPurpose::Leak}) {
    const auto failed = failed_before(unit, sterilizer.code, purpose, run);
    if (!failed) return failed.failure();
    if (*failed) return core::DailyTest::Failed;
  }
  const auto loads = unit.loads().of_day(sterilizer.code, day);
  if (!loads) return loads.failure();
  const bool sheet_due = profile.air_removal_test != core::Frequency::Off;
  const bool leak_due = profile.leak_test == core::Frequency::Daily;
  for (const auto& [due, purpose] : {std::pair{sheet_due, LoadPurpose::BowieDick}, {leak_due, LoadPurpose::Leak}}) {
    if (!due) continue;
    const auto passed = passed_before(unit, *loads, purpose, run);
    if (!passed) return passed.failure();
    if (!*passed) return core::DailyTest::Missing;
  }
  return sheet_due || leak_due ? core::DailyTest::Passed : core::DailyTest::NotAsked;
}

Result<LoadFacts> facts_of(const port::Unit& unit, const core::Load& load, core::Instant now) {
  LoadFacts facts;
  facts.state = load.state;
  facts.purpose = load.purpose;
  facts.process_date = load.process_date;
  facts.now = now;
  const auto office = unit.office();
  if (!office) return office.failure();
  const auto behind = is_clock_behind(unit, *office, now);
  if (!behind) return behind.failure();
  facts.clock_behind = *behind;
  const auto profile = profile_in_force(unit, *office);
  if (!profile) return profile.failure();
  facts.profile = *profile;
  const auto program = program_in_force(unit, load.program, load.name.sterilizer);
  if (!program) return program.failure();
  facts.program = *program;
  if (const auto ok = look_at_sterilizer(unit, load, facts); !ok) return ok.failure();
  if (const auto ok = look_aboard(unit, load, facts); !ok) return ok.failure();
  if (const auto ok = look_at_evidence(unit, load, facts); !ok) return ok.failure();
  if (const auto ok = look_at_incidents(unit, load, facts); !ok) return ok.failure();
  return facts;
}

}  // namespace loadlight::app
