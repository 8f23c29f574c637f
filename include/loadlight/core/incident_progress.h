// How far an incident has come: which steps are done or due, how much is recalled, and what still stands
// between the sterilizer and its return and between the incident and its end. Pure functions of what was
// recorded, total over every input; what is unknown or out of place never lets a sterilizer return.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/biological.h"
#include "loadlight/core/incident.h"
#include "loadlight/core/incident_steps.h"

namespace loadlight::core {

struct StepDone final {
  std::string step;
  std::string finding;
};

// A retest of the sterilizer. Two results of one run are two retests of the same run.
struct Retest final {
  int run = 0;                                 // Load::run
  std::optional<BiologicalStanding> standing;  // none: its result is awaited
  bool mechanical_and_chemical_fine = false;   // shown to be; false also while nothing was entered
  bool same_program = false;                   // as the load that grew
  bool empty_chamber = false;                  // but for the indicator
  int after_steps = 0;                         // how many steps of the incident were done before it was run
};

struct IncidentFacts final {
  Procedure procedure = Procedure::Conservative;
  IncidentCause cause = IncidentCause::BiologicalPositive;
  std::vector<StepDone> done;   // in the order in which they were done; a step may be done again
  std::vector<Retest> retests;  // in any order
  bool narrowed = false;        // a person narrowed the suspect range
};

enum class StepState { Done, Due, Waits, NotNeeded };

struct StepStatus final {
  std::string_view code;
  StepKind kind = StepKind::Attest;
  StepState state = StepState::Waits;
  std::string finding;  // the newest; empty: none yet
  int missing = 0;      // negatives in a row that a retest still wants
  std::string_view source;
};

// Every step of the incident's list, in working order. A step that was done and is asked again (an
// inspection after which a retest grew) is due again.
std::vector<StepStatus> steps(const IncidentFacts& facts);

// True iff a person may record this step now: it is not for evidence alone, and it does not wait. A recall
// can always be recorded: calling back everything is nobody's to refuse.
bool may_be_done(const IncidentFacts& facts, std::string_view step);

// How much of the suspect range is called back. No further fact ever lowers it: a finding counts for ever,
// whatever is found later.
RecallReach recall_reach(const IncidentFacts& facts);

enum class ObstacleKind {
  StepNotDone,
  NegativesMissing,      // count: how many negatives in a row are still wanted
  NewestRetestPositive,  // of those that say anything
  PackagesUnaccounted,   // count: of how many packages nobody said what became of them
  SterilizerNotReturned,
};

struct Obstacle final {
  ObstacleKind kind = ObstacleKind::StepNotDone;
  std::string_view step;  // empty: no step
  int count = 0;

  friend bool operator==(const Obstacle&, const Obstacle&) = default;
};

// What keeps the sterilizer out of service. None where it was never taken out (an internal indicator).
//
// Negatives count in a row. Growth begins the count anew, and so does a result that is invalid, lost or
// awaited, or a run whose mechanical and chemical evidence is not in order: each could have been a growth,
// and a row with such a gap is not consecutive. A negative of another program, of a chamber that was not
// empty where it must be, or run before what it is to prove (the repair, the correction) counts for nothing
// and interrupts nothing. Growth after a repair says that it did not cure: inspection and repair are asked
// again, and the row begins after them.
std::vector<Obstacle> obstacles_to_return(const IncidentFacts& facts);

// What keeps the incident open. `gone_or_back`: the sterilizer was returned to service, or retired. Retests
// and repair of a sterilizer that is gone for good are asked only while something of the range is not
// recalled: then they alone could clear it.
std::vector<Obstacle> obstacles_to_close(const IncidentFacts& facts, int unaccounted_packages,
                                         bool gone_or_back);

template <>
struct Vocabulary<StepState> {
  static constexpr Term<StepState> kTerms[] = {{StepState::Done, "done"},
                                               {StepState::Due, "due"},
                                               {StepState::Waits, "waits"},
                                               {StepState::NotNeeded, "not-needed"}};
};
template <>
struct Vocabulary<ObstacleKind> {
  static constexpr Term<ObstacleKind> kTerms[] = {
      {ObstacleKind::StepNotDone, "step-not-done"},
      {ObstacleKind::NegativesMissing, "negatives-missing"},
      {ObstacleKind::NewestRetestPositive, "newest-retest-positive"},
      {ObstacleKind::PackagesUnaccounted, "packages-unaccounted"},
      {ObstacleKind::SterilizerNotReturned, "sterilizer-not-returned"}};
};

}  // namespace loadlight::core
