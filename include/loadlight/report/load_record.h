// The record of one load as a document: who, what, when, the evidence line by line, the decision and who
// made it, and every package. It states what the record holds and judges nothing itself.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/cycle_criteria.h"
#include "loadlight/core/events.h"
#include "loadlight/core/programs.h"
#include "loadlight/core/verdict.h"
#include "loadlight/report/document.h"
#include "loadlight/report/words.h"

namespace loadlight::report {

// How times and people are named on paper.
struct RecordNames final {
  std::function<std::string(core::Instant)> local_time;  // with its offset: "2026-11-25 14:03 +01:00"
  std::map<std::string, std::string> people;             // names by operators' codes
};

// Something that was done with the load, from the ledger.
struct RecordAct final {
  core::EventKind kind = core::EventKind::LoadOpened;
  core::Instant at{};
  std::string who;  // an operator's code
  std::string why;
};

struct RecordPackage final {
  core::Package package;
  std::string contents;  // its name
};

struct LoadRecordFacts final {
  std::string office;  // its name
  std::string sterilizer;
  core::Load load;
  std::optional<core::Program> program;
  std::string profile;                  // Profile::text(), in force now
  std::string decided_under;            // at the decision; empty: none
  std::optional<int> retention_months;  // that the profile asks
  std::vector<RecordAct> acts;          // in their order
  std::vector<core::CriterionResult> criteria;
  std::optional<core::CycleLog> log;
  std::optional<core::CycleFindings> findings;  // of that log, with its curve
  core::CycleLimits limits;                     // that the plot shows
  std::vector<core::IndicatorReading> indicators;
  std::vector<core::BiologicalRun> runs;
  std::vector<core::BiologicalReading> readings;
  std::vector<core::Reason> reasons;  // of the decision, or, while there is none, against a release now
  std::vector<core::Note> notes;
  std::vector<RecordPackage> packages;
  std::vector<core::LooseItems> loose;  // contents by name
  std::vector<int> incidents;           // whose range the load is in
  core::Instant printed_at{};
};

Document load_record(const LoadRecordFacts& facts, const RecordNames& names, const Words& words);

// What was decided of a load, in a word or two: "RELEASED".
std::string decision_text(const core::Load& load, const Words& words);
// "Ada Berg (AB)"; the code alone where it has no name.
std::string person_text(const std::string& code, const RecordNames& names);
// What is known of the load's biological indicators: "no growth, control grew", "awaited", "none".
std::string biological_text(const LoadRecordFacts& facts, const Words& words);

}  // namespace loadlight::report
