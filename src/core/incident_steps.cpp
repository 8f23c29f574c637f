#include "loadlight/core/incident_steps.h"

#include <algorithm>
#include <iterator>

namespace loadlight::core {
namespace {

using L = StepList;
using K = StepKind;
using N = StepNeed;
using S = StepServes;

constexpr std::string_view kNarrower =
    "our own: a range narrower than the guidelines' is a person's decision, confirmed before closing";
constexpr std::string_view kConservative2003 =
    "MMWR 52(RR-17) 2003, as quoted, the conservative option: any positive is a malfunction";
constexpr std::string_view kEmptyChamber2003 =
    "MMWR 52(RR-17) 2003, as quoted: inspected, repaired, negative in three consecutive empty-chamber cycles";
constexpr std::string_view kEmptyChamberAda =
    "ADA, as republished: not used until the cause is found and three consecutive empty-chamber cycles are "
    "negative";
constexpr std::string_view kRecall2003 =
    "MMWR 52(RR-17) 2003, as quoted: suspect loads back to the last negative recalled, rewrapped, "
    "resterilized";
constexpr std::string_view kTable12 = "CDC Guideline 2008, Table 12";
constexpr std::string_view kRemoved = "MMWR 52(RR-17) 2003, as quoted: removed from service";
constexpr std::string_view kImplants2003 =
    "MMWR 52(RR-17) 2003, as quoted: items other than implants need not necessarily be recalled";
constexpr std::string_view kRecords2003 =
    "MMWR 52(RR-17) 2003, as quoted: mechanical and chemical records since the last negative";
constexpr std::string_view kProcedures2003 =
    "MMWR 52(RR-17) 2003, as quoted: packaging, loading and testing, with all who work with the sterilizer";
constexpr std::string_view kRepeat2003 =
    "MMWR 52(RR-17) 2003, as quoted: repeated at once, correctly loaded, in the same cycle";
constexpr std::string_view kBack2003 =
    "MMWR 52(RR-17) 2003, as quoted: one negative repeat, all monitoring adequate, back into service";
constexpr std::string_view kOnlyInOrder2003 =
    "MMWR 52(RR-17) 2003, as quoted: only with records in order does one positive not mean a malfunction";
constexpr std::string_view kSettings2008 =
    "CDC Guideline 2008, Table 12: wrong settings, inadequately processed items recalled";
constexpr std::string_view kDefective2008 =
    "CDC Guideline 2008, Table 12: recalled where the sterilizer or the procedure is defective";
constexpr std::string_view kInadequate =
    "MMWR 52(RR-17) 2003 VI.F.5, as quoted: not used where a chemical result is inadequate";
constexpr std::string_view kAnyTime = "our own: everything can be called back at any time";
constexpr std::string_view kLot = "our own: a lot that was recalled is called back like a load";
constexpr std::string_view kPractice = "";  // common practice

// clang-format off
constexpr IncidentStepRow kSteps[] = {
    {L::Dental2003, "out-of-service", K::Attest, N::Always, S::Return, {}, kRemoved},
    {L::Dental2003, "recall-implants", K::Recall, N::Always, S::Goods, {}, kImplants2003},
    {L::Dental2003, "review-records", K::Attest, N::Always, S::Return, {}, kRecords2003},
    {L::Dental2003, "review-procedures", K::Attest, N::Always, S::Return, {}, kProcedures2003},
    {L::Dental2003, "retest", K::Retest, N::WithoutRepair, S::Sterilizer, {"out-of-service"}, kRepeat2003},
    {L::Dental2003, "judge-positive", K::Decision, N::Always, S::Sterilizer, {"retest"}, kBack2003},
    {L::Dental2003, "inspect", K::Attest, N::Repair, S::Sterilizer, {"out-of-service"}, kEmptyChamber2003},
    {L::Dental2003, "repair", K::Attest, N::Repair, S::Sterilizer, {"inspect"}, kEmptyChamber2003},
    {L::Dental2003, "retest-empty", K::Retest, N::Repair, S::Sterilizer, {"inspect", "repair"}, kEmptyChamber2003},
    {L::Dental2003, "recall-everything", K::Recall, N::RecallOfEverything, S::Goods, {}, kRecall2003},
    {L::Dental2003, "confirm-range", K::Decision, N::NarrowedRange, S::Goods, {}, kNarrower},

    {L::Facility2008, "out-of-service", K::Attest, N::Always, S::Return, {}, kTable12},
    {L::Facility2008, "notify", K::Attest, N::Always, S::Return, {}, kTable12},
    {L::Facility2008, "recall-implants", K::Recall, N::Always, S::Goods, {}, kTable12},
    {L::Facility2008, "check-settings", K::Attest, N::Always, S::Return, {}, kTable12},
    {L::Facility2008, "check-utilities", K::Attest, N::Always, S::Return, {}, kTable12},
    {L::Facility2008, "check-indicator", K::Attest, N::Always, S::Return, {}, kTable12},
    {L::Facility2008, "inspect", K::Attest, N::Repair, S::Sterilizer, {"out-of-service"}, kTable12},
    {L::Facility2008, "repair", K::Attest, N::Repair, S::Sterilizer, {"inspect"}, kTable12},
    {L::Facility2008, "retest-three", K::Retest, N::Always, S::Sterilizer, {"out-of-service"}, kTable12},
    {L::Facility2008, "recall-everything", K::Recall, N::RecallOfEverything, S::Goods, {}, kTable12},
    {L::Facility2008, "confirm-range", K::Decision, N::NarrowedRange, S::Goods, {}, kNarrower},

    {L::Conservative, "out-of-service", K::Attest, N::Always, S::Return, {}, kEmptyChamberAda},
    {L::Conservative, "recall-implants", K::Recall, N::Always, S::Goods, {}, kConservative2003},
    {L::Conservative, "recall-everything", K::Recall, N::RecallOfEverything, S::Goods, {}, kConservative2003},
    {L::Conservative, "review-records", K::Attest, N::Always, S::Return, {}, kConservative2003},
    {L::Conservative, "review-procedures", K::Attest, N::Always, S::Return, {}, kConservative2003},
    {L::Conservative, "inspect", K::Attest, N::Repair, S::Sterilizer, {"out-of-service"}, kEmptyChamberAda},
    {L::Conservative, "repair", K::Attest, N::Repair, S::Sterilizer, {"inspect"}, kEmptyChamberAda},
    {L::Conservative, "retest-empty", K::Retest, N::Repair, S::Sterilizer, {"inspect", "repair"}, kEmptyChamberAda},
    {L::Conservative, "confirm-range", K::Decision, N::NarrowedRange, S::Goods, {}, kNarrower},

    {L::InternalIndicator, "check-loading", K::Attest, N::Always, S::Goods, {}, kPractice},
    {L::InternalIndicator, "check-other-indicators", K::Attest, N::Always, S::Goods, {}, kPractice},
    {L::InternalIndicator, "decide-load", K::Decision, N::Always, S::Goods,
     {"check-loading", "check-other-indicators"}, kPractice},
    {L::InternalIndicator, "recall-everything", K::Recall, N::RecallOfEverything, S::Goods, {}, kPractice},

    {L::FaultyIndicator, "set-lot-aside", K::Attest, N::Always, S::Goods, {}, kLot},
    {L::FaultyIndicator, "recall-everything", K::Recall, N::Always, S::Goods, {}, kInadequate},

    {L::FaultyPouch, "set-lot-aside", K::Attest, N::Always, S::Goods, {}, kLot},
    {L::FaultyPouch, "decide-load", K::Decision, N::Always, S::Goods, {"set-lot-aside"}, kLot},
    {L::FaultyPouch, "recall-everything", K::Recall, N::RecallOfEverything, S::Goods, {}, kLot},
};

// step, finding, recalls everything, calls for repair, asks a new retest, source of that
constexpr StepFinding kFindings[] = {
    {"out-of-service", "done", false, false, false, ""},
    {"notify", "done", false, false, false, ""},
    {"recall-implants", "recalled", false, false, false, ""},
    {"recall-implants", "none-aboard", false, false, false, ""},
    {"recall-everything", "recalled", true, false, false, kAnyTime},
    {"review-records", "fine", false, false, false, ""},
    {"review-records", "defect", true, true, true, kOnlyInOrder2003},
    {"review-procedures", "fine", false, false, false, ""},
    {"review-procedures", "handling-error", false, false, false, ""},
    {"review-procedures", "defect", true, false, true, kDefective2008},
    {"judge-positive", "handling-error", false, false, false, ""},
    {"judge-positive", "malfunction", true, true, false, kEmptyChamber2003},
    {"judge-positive", "unknown", true, true, false, kEmptyChamberAda},
    {"check-settings", "fine", false, false, false, ""},
    {"check-settings", "defect", true, false, true, kSettings2008},
    {"check-utilities", "fine", false, false, false, ""},
    {"check-utilities", "defect", true, true, true, kDefective2008},
    {"check-indicator", "fine", false, false, false, ""},
    {"check-indicator", "handling-error", false, false, false, ""},
    {"inspect", "fine", false, false, false, ""},
    {"inspect", "defect", true, true, false, kDefective2008},
    {"repair", "repaired", false, false, false, ""},
    {"repair", "no-fault-found", false, false, false, ""},
    {"confirm-range", "stands", false, false, false, ""},
    {"check-loading", "fine", false, false, false, ""},
    {"check-loading", "defect", false, false, false, ""},
    {"check-other-indicators", "changed", false, false, false, ""},
    {"check-other-indicators", "unchanged", true, false, false, kInadequate},
    {"check-other-indicators", "none-left", false, false, false, ""},
    {"decide-load", "lift-hold", false, false, false, ""},
    {"set-lot-aside", "done", false, false, false, ""},
    {"decide-load", "recall", true, false, false, "a person's decision"},
};

// list, after repair, step, negatives in a row, empty chamber, source
constexpr RetestRule kRetests[] = {
    {L::Dental2003, false, "retest", 1, false, kBack2003},
    {L::Dental2003, true, "retest-empty", 3, true, kEmptyChamber2003},
    {L::Facility2008, false, "retest-three", 3, false, kTable12},
    {L::Facility2008, true, "retest-three", 3, false, kTable12},
    {L::Conservative, false, "retest-empty", 3, true, kEmptyChamberAda},
    {L::Conservative, true, "retest-empty", 3, true, kEmptyChamberAda},
};

// list, recalled at once, recalled after a positive retest, repair at once, source
constexpr ProcedureRule kProcedures[] = {
    {L::Dental2003, RecallReach::Implants, RecallReach::Everything, false, kRecall2003},
    {L::Facility2008, RecallReach::Implants, RecallReach::Everything, false, kTable12},
    {L::InternalIndicator, RecallReach::Nothing, RecallReach::Nothing, false, kPractice},
    {L::FaultyIndicator, RecallReach::Everything, RecallReach::Everything, false, kInadequate},
    {L::FaultyPouch, RecallReach::Nothing, RecallReach::Nothing, false, kLot},
    {L::Conservative, RecallReach::Everything, RecallReach::Everything, true, kConservative2003},
};
// clang-format on

}  // namespace

StepList step_list(IncidentCause cause, Procedure procedure) {
  switch (cause) {
    case IncidentCause::InternalIndicator:
      return L::InternalIndicator;
    case IncidentCause::FaultyIndicator:
      return L::FaultyIndicator;
    case IncidentCause::FaultyPouch:
      return L::FaultyPouch;
    case IncidentCause::BiologicalPositive:
      break;
  }
  switch (procedure) {
    case Procedure::Dental2003:
      return L::Dental2003;
    case Procedure::Facility2008:
      return L::Facility2008;
    case Procedure::Conservative:
      return L::Conservative;
  }
  return L::Conservative;
}

bool is_about_the_sterilizer(StepList list) {
  return list != L::InternalIndicator && list != L::FaultyIndicator && list != L::FaultyPouch;
}

std::span<const IncidentStepRow> all_incident_steps() {
  return kSteps;
}

std::vector<IncidentStepRow> incident_steps_of(StepList list) {
  std::vector<IncidentStepRow> rows;
  std::ranges::copy_if(kSteps, std::back_inserter(rows), [&](const auto& row) { return row.list == list; });
  return rows;
}

std::span<const StepFinding> all_step_findings() {
  return kFindings;
}

std::vector<StepFinding> findings_of(std::string_view step) {
  std::vector<StepFinding> rows;
  std::ranges::copy_if(kFindings, std::back_inserter(rows),
                       [&](const auto& row) { return row.step == step; });
  return rows;
}

bool is_finding_of(std::string_view step, std::string_view finding) {
  return std::ranges::any_of(kFindings,
                             [&](const auto& row) { return row.step == step && row.code == finding; });
}

StepFinding effect_of(std::string_view step, std::string_view finding) {
  StepFinding effect{step, finding, false, false, false, ""};
  for (const StepFinding& row : kFindings) {
    if (row.step != step) continue;
    if (row.code == finding) return row;
    effect.recalls_everything |= row.recalls_everything;
    effect.calls_for_repair |= row.calls_for_repair;
    effect.asks_new_retest |= row.asks_new_retest;
  }
  return effect;
}

std::span<const RetestRule> all_retest_rules() {
  return kRetests;
}

const RetestRule& retest_rule(StepList list, bool after_repair) {
  for (const RetestRule& row : kRetests) {
    if (row.list == list && row.after_repair == after_repair) return row;
  }
  return kRetests[std::size(kRetests) - 1];
}

std::span<const ProcedureRule> all_procedure_rules() {
  return kProcedures;
}

const ProcedureRule& procedure_rule(StepList list) {
  for (const ProcedureRule& row : kProcedures) {
    if (row.list == list) return row;
  }
  return kProcedures[std::size(kProcedures) - 1];
}

}  // namespace loadlight::core
