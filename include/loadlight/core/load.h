// A load (one run of a sterilizer's chamber), the evidence about it, and incidents, as the record keeps
// them.
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
  std::optional<CivilDate> process_date;  // the local date of the start
  std::optional<Instant> finished_at;
  std::optional<int> machine_counter;  // the sterilizer's own cycle counter
  std::string abort_reason;
  std::optional<Readings> readings;
  std::optional<Instant> decided_at;
  std::string decided_by;
  std::string emergency_reason;   // filled: released as an emergency
  std::string emergency_second;   // the second person's code
  bool implant_aboard = false;    // fixed at start, from the contents

  friend bool operator==(const Load&, const Load&) = default;
};

enum class IndicatorPlace { External, Internal, ProcessChallenge };

// One reading of a chemical indicator (ISO 11140-1 types 1 to 6).
struct IndicatorReading final {
  int number = 0;  // from 1, over the whole record
  LoadName load;
  IndicatorPlace place = IndicatorPlace::External;
  int type = 1;
  std::string lot;
  CivilDate expires = *CivilDate::from(1900, 1, 1);
  bool passed = false;
  std::optional<PackageId> package;  // none: the load as a whole
  std::string read_by;
  Instant read_at{};

  friend bool operator==(const IndicatorReading&, const IndicatorReading&) = default;
};

enum class BiologicalTest { Growth, NoGrowth, Lost };
enum class BiologicalControl { Growth, NoGrowth, NotReported };

// One result of a biological indicator with its control.
struct BiologicalReading final {
  int number = 0;  // from 1, over the whole record
  LoadName load;
  std::string lot;
  BiologicalTest test = BiologicalTest::Lost;
  BiologicalControl control = BiologicalControl::NotReported;
  std::string control_lot;
  std::string read_by;
  Instant read_at{};

  friend bool operator==(const BiologicalReading&, const BiologicalReading&) = default;
};

enum class IncidentCause { InternalIndicator, BiologicalPositive };
enum class IncidentState { Open, Closed };

// Something that puts loads of one sterilizer in doubt.
struct Incident final {
  int number = 0;  // from 1
  IncidentCause cause = IncidentCause::InternalIndicator;
  IncidentState state = IncidentState::Open;
  std::string sterilizer;
  int first_load = 1;            // number of the first suspect load, included
  std::optional<int> last_load;  // included; none: up to the newest
  std::string opened_by;
  Instant opened_at{};
  std::string note;

  bool covers(const LoadName& load) const {
    return load.sterilizer == sterilizer && load.number >= first_load &&
           (!last_load || load.number <= *last_load);
  }
  friend bool operator==(const Incident&, const Incident&) = default;
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
template <>
struct Vocabulary<IndicatorPlace> {
  static constexpr Term<IndicatorPlace> kTerms[] = {{IndicatorPlace::External, "external"},
                                                    {IndicatorPlace::Internal, "internal"},
                                                    {IndicatorPlace::ProcessChallenge, "pcd"}};
};
template <>
struct Vocabulary<BiologicalTest> {
  static constexpr Term<BiologicalTest> kTerms[] = {{BiologicalTest::Growth, "growth"},
                                                    {BiologicalTest::NoGrowth, "no-growth"},
                                                    {BiologicalTest::Lost, "lost"}};
};
template <>
struct Vocabulary<BiologicalControl> {
  static constexpr Term<BiologicalControl> kTerms[] = {
      {BiologicalControl::Growth, "growth"},
      {BiologicalControl::NoGrowth, "no-growth"},
      {BiologicalControl::NotReported, "not-reported"}};
};
template <>
struct Vocabulary<IncidentCause> {
  static constexpr Term<IncidentCause> kTerms[] = {
      {IncidentCause::InternalIndicator, "internal-indicator"},
      {IncidentCause::BiologicalPositive, "biological-positive"}};
};
template <>
struct Vocabulary<IncidentState> {
  static constexpr Term<IncidentState> kTerms[] = {{IncidentState::Open, "open"},
                                                   {IncidentState::Closed, "closed"}};
};

}  // namespace loadlight::core
