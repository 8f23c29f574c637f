// A load (one run of a sterilizer's chamber) as the record keeps it. The evidence about it: evidence.h;
// what puts it in doubt: incident.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/names.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

// Where a load stands. It moves only through the table in transitions.h.
enum class LoadState {
  Reserved,     // its number was given out with labels; not opened yet
  Open,         // being filled
  Running,      // started
  Finished,     // ended, no decision yet
  Quarantined,  // decided: waits for a biological result
  Released,     // decided: released
  Failed,       // decided: reprocess everything
  Aborted,      // did not run to its end
  Revoked,      // a release that was taken back
  Recalled,     // called back after an incident
};

// Its number is given out or it is being filled: labels may still change.
constexpr bool is_before_start(LoadState state) {
  return state == LoadState::Reserved || state == LoadState::Open;
}
// It ended as it should and nobody has decided for good: evidence is still taken.
constexpr bool awaits_decision(LoadState state) {
  return state == LoadState::Finished || state == LoadState::Quarantined;
}
constexpr bool has_ended(LoadState state) { return !is_before_start(state) && state != LoadState::Running; }

enum class LoadPurpose { Process, BowieDick, Leak, Retest };

// Typed-in mechanical evidence: what the sterilizer showed during exposure.
struct Readings final {
  double low_celsius = 0;   // lowest temperature during exposure
  double high_celsius = 0;  // highest temperature during exposure
  double minutes = 0;       // length of the exposure
  double pressure_kpa = 0;  // absolute
  std::optional<double> drying_minutes;

  friend bool operator==(const Readings&, const Readings&) = default;
};

// What a leak test of the chamber showed.
struct LeakTest final {
  double kpa_per_minute = 0;  // the pressure's rise
  bool passed = false;        // as the sterilizer, or its maker's instructions, judge it

  friend bool operator==(const LeakTest&, const LeakTest&) = default;
};

// Unwrapped items carry no label of their own: a line of the load.
struct LooseItems final {
  std::string contents;
  int count = 1;

  friend bool operator==(const LooseItems&, const LooseItems&) = default;
};

struct Load final {
  LoadName name;
  LoadState state = LoadState::Reserved;
  std::string program;  // a row of the program table; empty while reserved
  LoadPurpose purpose = LoadPurpose::Process;
  std::vector<LooseItems> loose_items;
  std::optional<Instant> opened_at;
  std::optional<Instant> started_at;
  // Its place among the loads of its sterilizer in the order in which they were started, from 1: numbers
  // are given out with labels and a clock can be wrong, this order cannot.
  std::optional<int> run;
  std::optional<CivilDate> process_date;  // the local date of the start
  std::optional<Instant> finished_at;
  std::optional<int> machine_counter;  // the sterilizer's own cycle counter
  std::string abort_reason;
  std::optional<Readings> readings;
  std::optional<int> cycle_log;  // CycleLog::number of the log in force; it outweighs typed readings
  std::optional<LeakTest> leak;
  std::optional<int> retest_of;  // the incident that this load is a retest for
  std::optional<Instant> decided_at;
  std::string decided_by;
  std::string emergency_reason;   // filled: released as an emergency
  std::string emergency_second;   // the second person's code
  bool implant_aboard = false;    // fixed at start, from the contents

  friend bool operator==(const Load&, const Load&) = default;
};

template <>
struct Vocabulary<LoadState> {
  static constexpr Term<LoadState> kTerms[] = {
      {LoadState::Reserved, "reserved"},       {LoadState::Open, "open"},
      {LoadState::Running, "running"},         {LoadState::Finished, "finished"},
      {LoadState::Quarantined, "quarantined"}, {LoadState::Released, "released"},
      {LoadState::Failed, "failed"},           {LoadState::Aborted, "aborted"},
      {LoadState::Revoked, "revoked"},         {LoadState::Recalled, "recalled"}};
};
template <>
struct Vocabulary<LoadPurpose> {
  static constexpr Term<LoadPurpose> kTerms[] = {{LoadPurpose::Process, "process"},
                                                 {LoadPurpose::BowieDick, "bowie-dick"},
                                                 {LoadPurpose::Leak, "leak"},
                                                 {LoadPurpose::Retest, "retest"}};
};
}  // namespace loadlight::core
