// May this load be released? The facts are fetched by the use case; the rules, one row a reason, are in
// release_rules.cpp.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/cycle_criteria.h"
#include "loadlight/core/dates.h"
#include "loadlight/core/evidence.h"
#include "loadlight/core/load.h"
#include "loadlight/core/office.h"
#include "loadlight/core/profiles.h"
#include "loadlight/core/programs.h"
#include "loadlight/core/verdict.h"

namespace loadlight::core {

// Where the tests stand that a sterilizer must pass before the day's first load.
enum class DailyTest { NotAsked, Passed, Missing, Failed };

// An absent optional is a fact that could not be had: it holds. Some are evidence that may not have been
// given yet and have reasons of their own: `readings`, `log`, `leak` and the lists.
struct LoadFacts final {
  LoadState state = LoadState::Open;
  LoadPurpose purpose = LoadPurpose::Process;
  std::optional<Profile> profile;
  std::optional<Program> program;
  std::optional<AirRemoval> removal;
  std::optional<SterilizerType> type;
  std::optional<bool> in_service;
  std::optional<DailyTest> daily_test;
  std::optional<bool> in_open_incident;
  std::optional<bool> holds_wrapped;  // at least one wrapped package
  std::optional<bool> holds_hollow;   // at least one hollow item
  std::optional<bool> holds_implant;
  std::optional<int> wet_packages;  // withdrawn as wet on unloading
  std::optional<Readings> readings;
  bool has_log = false;              // a cycle log was read in; it outweighs readings
  std::optional<CycleFindings> log;  // what it shows
  std::optional<LeakTest> leak;
  std::vector<IndicatorReading> indicators;
  std::vector<BiologicalRun> biological_runs;
  std::vector<BiologicalReading> biologicals;
  std::optional<std::vector<std::string>> recalled_lots;  // of those that the indicators are of
  std::optional<CivilDate> process_date;
  std::optional<bool> clock_behind;
  std::optional<Instant> now;
};

// Several wet packages hold the load; a single one is withdrawn alone (common practice).
inline constexpr int kWetPackagesThatHold = 2;

Verdict judge_release(const LoadFacts& facts);
// The notes of that verdict alone: what informs about a load whatever became of it.
std::vector<Note> release_notes(const LoadFacts& facts);

// What was measured against what is asked, line by line; empty without readings or log, or without a
// program or profile to hold them against.
std::vector<CriterionResult> mechanical_criteria(const LoadFacts& facts);
// The limits of those lines; of nothing without a program or profile. Not longer than the facts.
CycleLimits mechanical_limits(const LoadFacts& facts);

// What a load's state alone says of its packages: Clear for a released one, a reason for every other.
Verdict verdict_of_state(LoadState state);

}  // namespace loadlight::core
