// What is to be done after an incident: the published procedures as tables of steps, the findings a step
// can end in and what they entail, and the retests that clear a sterilizer. incident_progress.h says how
// far an incident has come. Words: "incident.step.<code>", "incident.finding.<code>".
#pragma once

#include <array>
#include <span>
#include <string_view>
#include <vector>

#include "loadlight/core/incident.h"
#include "loadlight/core/profiles.h"

namespace loadlight::core {

// Which list of steps an incident follows.
enum class StepList { Dental2003, Facility2008, Conservative, InternalIndicator, FaultyIndicator, FaultyPouch };

// Whether the list asks after the sterilizer, and not after the goods alone.
bool is_about_the_sterilizer(StepList list);

// An unknown procedure follows the conservative one.
StepList step_list(IncidentCause cause, Procedure procedure);

enum class StepKind {
  Attest,    // a person says that it was done, with a finding
  Decision,  // a person decides
  Retest,    // done by evidence alone
  Recall,    // a person says that the goods were called back
};

enum class StepNeed {
  Always,
  WithoutRepair,       // until repair is called for
  Repair,              // once repair is called for
  RecallOfEverything,  // once everything is recalled
  NarrowedRange,       // once a person narrowed the range
};

// What a step is done for.
enum class StepServes {
  Goods,       // asked before the incident is closed
  Return,      // asked before the sterilizer returns
  Sterilizer,  // the same; moot once the sterilizer is gone for good and everything is recalled
};

struct IncidentStepRow final {
  StepList list = StepList::Conservative;
  std::string_view code;
  StepKind kind = StepKind::Attest;
  StepNeed need = StepNeed::Always;
  StepServes serves = StepServes::Return;
  std::array<std::string_view, 2> after;  // steps to be done before it; empty: none
  std::string_view source;
};

std::span<const IncidentStepRow> all_incident_steps();
std::vector<IncidentStepRow> incident_steps_of(StepList list);  // in working order

// A finding that a step can end in.
struct StepFinding final {
  std::string_view step;
  std::string_view code;
  bool recalls_everything = false;
  bool calls_for_repair = false;
  bool asks_new_retest = false;  // retests (and inspections) made before it clear nothing
  std::string_view source;       // of what it entails; empty where it entails nothing
};

std::span<const StepFinding> all_step_findings();
std::vector<StepFinding> findings_of(std::string_view step);
// What a finding entails. One that the table does not know entails whatever any finding of its step does.
StepFinding effect_of(std::string_view step, std::string_view finding);
bool is_finding_of(std::string_view step, std::string_view finding);

// The negatives in a row that clear a sterilizer, before and after repair is called for.
struct RetestRule final {
  StepList list = StepList::Conservative;
  bool after_repair = true;
  std::string_view step;
  int negatives = 3;
  bool empty_chamber = true;  // loads with anything in the chamber do not count
  std::string_view source;
};

std::span<const RetestRule> all_retest_rules();
const RetestRule& retest_rule(StepList list, bool after_repair);  // of lists about the sterilizer

// What a list of steps entails of itself.
struct ProcedureRule final {
  StepList list = StepList::Conservative;
  RecallReach at_once = RecallReach::Everything;
  RecallReach after_positive_retest = RecallReach::Everything;
  bool repair_at_once = true;
  std::string_view source;
};

std::span<const ProcedureRule> all_procedure_rules();
const ProcedureRule& procedure_rule(StepList list);

template <>
struct Vocabulary<StepList> {
  static constexpr Term<StepList> kTerms[] = {{StepList::Dental2003, "dental-2003"},
                                              {StepList::Facility2008, "facility-2008"},
                                              {StepList::Conservative, "conservative"},
                                              {StepList::InternalIndicator, "internal-indicator"},
                                              {StepList::FaultyIndicator, "faulty-indicator"},
                                              {StepList::FaultyPouch, "faulty-pouch"}};
};
template <>
struct Vocabulary<StepKind> {
  static constexpr Term<StepKind> kTerms[] = {{StepKind::Attest, "attest"},
                                              {StepKind::Decision, "decision"},
                                              {StepKind::Retest, "retest"},
                                              {StepKind::Recall, "recall"}};
};

}  // namespace loadlight::core
