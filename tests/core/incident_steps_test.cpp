#include "loadlight/core/incident_steps.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <tuple>
#include <vector>

namespace loadlight::core {
namespace {

using L = StepList;
using K = StepKind;
using Codes = std::vector<std::string_view>;

Codes codes_of(L list) {
  Codes codes;
  for (const IncidentStepRow& row : incident_steps_of(list)) codes.push_back(row.code);
  return codes;
}

std::set<std::string> findings_where(bool StepFinding::*entails) {
  std::set<std::string> found;
  for (const StepFinding& row : all_step_findings()) {
    if (row.*entails) found.insert(std::string(row.step) + " " + std::string(row.code));
  }
  return found;
}

}  // namespace

// MMWR 52(RR-17) 2003, positive spore test, in the order of its text.
TEST_CASE("The dental procedure of 2003 has these steps in this order", "[R45]") {
  REQUIRE(codes_of(L::Dental2003) == Codes{"out-of-service", "recall-implants", "review-records",
                                           "review-procedures", "retest", "judge-positive", "inspect",
                                           "repair", "retest-empty", "recall-everything", "confirm-range"});
}

// CDC 2008 Table 12.
TEST_CASE("The facility procedure of 2008 has these steps in this order", "[R45]") {
  REQUIRE(codes_of(L::Facility2008) == Codes{"out-of-service", "notify", "recall-implants", "check-settings",
                                             "check-utilities", "check-indicator", "inspect", "repair",
                                             "retest-three", "recall-everything", "confirm-range"});
}

// MMWR 52(RR-17) 2003, the conservative option; ADA: three consecutive empty-chamber cycles.
TEST_CASE("The conservative procedure has these steps in this order", "[R45]") {
  REQUIRE(codes_of(L::Conservative) == Codes{"out-of-service", "recall-implants", "recall-everything",
                                             "review-records", "review-procedures", "inspect", "repair",
                                             "retest-empty", "confirm-range"});
}

TEST_CASE("An internal indicator's incident looks, decides and asks no retest of the sterilizer", "[R22]") {
  REQUIRE(codes_of(L::InternalIndicator) ==
          Codes{"check-loading", "check-other-indicators", "decide-load", "recall-everything"});
  for (const IncidentStepRow& row : incident_steps_of(L::InternalIndicator)) {
    REQUIRE(row.serves == StepServes::Goods);
    REQUIRE(row.kind != K::Retest);
  }
}

TEST_CASE("A recalled lot is set aside and its goods called back and nothing is asked of the sterilizer") {
  REQUIRE(codes_of(L::FaultyIndicator) == Codes{"set-lot-aside", "recall-everything"});
  REQUIRE(codes_of(L::FaultyPouch) == Codes{"set-lot-aside", "decide-load", "recall-everything"});
  REQUIRE(procedure_rule(L::FaultyIndicator).at_once == RecallReach::Everything);
  REQUIRE(procedure_rule(L::FaultyPouch).at_once == RecallReach::Nothing);
  for (L list : {L::FaultyIndicator, L::FaultyPouch}) {
    REQUIRE_FALSE(is_about_the_sterilizer(list));
    REQUIRE_FALSE(procedure_rule(list).repair_at_once);
    for (const IncidentStepRow& row : incident_steps_of(list)) REQUIRE(row.serves == StepServes::Goods);
  }
  for (L list : {L::Dental2003, L::Facility2008, L::Conservative}) REQUIRE(is_about_the_sterilizer(list));
}

TEST_CASE("A procedure has its own list, an unknown one the conservative, an internal indicator its own",
          "[R45]") {
  const auto positive = IncidentCause::BiologicalPositive;
  REQUIRE(step_list(positive, Procedure::Dental2003) == L::Dental2003);
  REQUIRE(step_list(positive, Procedure::Facility2008) == L::Facility2008);
  REQUIRE(step_list(positive, Procedure::Conservative) == L::Conservative);
  REQUIRE(step_list(positive, static_cast<Procedure>(99)) == L::Conservative);
  for (const auto& procedure : Vocabulary<Procedure>::kTerms) {
    REQUIRE(step_list(IncidentCause::InternalIndicator, procedure.value) == L::InternalIndicator);
    REQUIRE(step_list(IncidentCause::FaultyIndicator, procedure.value) == L::FaultyIndicator);
    REQUIRE(step_list(IncidentCause::FaultyPouch, procedure.value) == L::FaultyPouch);
  }
}

// MMWR 52(RR-17) 2003: one, then three in an empty chamber; CDC 2008 Table 12: three; ADA: three, empty.
TEST_CASE("Each procedure asks the negatives that its source states", "[R49]") {
  using Row = std::tuple<L, bool, std::string_view, int, bool>;
  std::vector<Row> rows;
  for (const RetestRule& r : all_retest_rules()) {
    rows.emplace_back(r.list, r.after_repair, r.step, r.negatives, r.empty_chamber);
  }
  REQUIRE(rows == std::vector<Row>{{L::Dental2003, false, "retest", 1, false},
                                   {L::Dental2003, true, "retest-empty", 3, true},
                                   {L::Facility2008, false, "retest-three", 3, false},
                                   {L::Facility2008, true, "retest-three", 3, false},
                                   {L::Conservative, false, "retest-empty", 3, true},
                                   {L::Conservative, true, "retest-empty", 3, true}});
}

TEST_CASE("A positive recalls implants at once, everything at once only in the conservative procedure",
          "[R48]") {
  REQUIRE(procedure_rule(L::Dental2003).at_once == RecallReach::Implants);
  REQUIRE(procedure_rule(L::Facility2008).at_once == RecallReach::Implants);
  REQUIRE(procedure_rule(L::Conservative).at_once == RecallReach::Everything);
  REQUIRE(procedure_rule(L::InternalIndicator).at_once == RecallReach::Nothing);
  for (L list : {L::Dental2003, L::Facility2008, L::Conservative}) {
    REQUIRE(procedure_rule(list).after_positive_retest == RecallReach::Everything);
    REQUIRE(procedure_rule(list).repair_at_once == (list == L::Conservative));
  }
}

TEST_CASE("Rules of a list that no table has are the strictest") {
  const L unknown = static_cast<L>(99);
  REQUIRE(procedure_rule(unknown).list == L::Conservative);
  REQUIRE(retest_rule(unknown, false).negatives == 3);
  REQUIRE(retest_rule(unknown, false).empty_chamber);
}

TEST_CASE("These findings recall everything, these call for repair, these void retests made before",
          "[R48]") {
  using Set = std::set<std::string>;
  REQUIRE(findings_where(&StepFinding::recalls_everything) ==
          Set{"recall-everything recalled", "review-records defect", "review-procedures defect",
              "judge-positive malfunction", "judge-positive unknown", "check-settings defect",
              "check-utilities defect", "inspect defect", "check-other-indicators unchanged",
              "decide-load recall"});
  REQUIRE(findings_where(&StepFinding::calls_for_repair) ==
          Set{"review-records defect", "judge-positive malfunction", "judge-positive unknown",
              "check-utilities defect", "inspect defect"});
  REQUIRE(findings_where(&StepFinding::asks_new_retest) ==
          Set{"review-records defect", "review-procedures defect", "check-settings defect",
              "check-utilities defect"});
}

TEST_CASE("A finding that its step does not know entails all that any finding of the step does") {
  const StepFinding effect = effect_of("review-records", "no such finding");
  REQUIRE(effect.recalls_everything);
  REQUIRE(effect.calls_for_repair);
  REQUIRE(effect.asks_new_retest);
  REQUIRE_FALSE(is_finding_of("review-records", "no such finding"));
  REQUIRE_FALSE(is_finding_of("review-records", "stands"));
  REQUIRE_FALSE(effect_of("out-of-service", "").recalls_everything);
}

TEST_CASE("Each step can end in these findings, the good one first", "[R45]") {
  const std::map<std::string_view, Codes> findings = {
      {"out-of-service", {"done"}},
      {"notify", {"done"}},
      {"recall-implants", {"recalled", "none-aboard"}},
      {"recall-everything", {"recalled"}},
      {"review-records", {"fine", "defect"}},
      {"review-procedures", {"fine", "handling-error", "defect"}},
      {"judge-positive", {"handling-error", "malfunction", "unknown"}},
      {"check-settings", {"fine", "defect"}},
      {"check-utilities", {"fine", "defect"}},
      {"check-indicator", {"fine", "handling-error"}},
      {"inspect", {"fine", "defect"}},
      {"repair", {"repaired", "no-fault-found"}},
      {"confirm-range", {"stands"}},
      {"check-loading", {"fine", "defect"}},
      {"check-other-indicators", {"changed", "unchanged", "none-left"}},
      {"set-lot-aside", {"done"}},
      {"decide-load", {"lift-hold", "recall"}}};
  for (const auto& [step, expected] : findings) {
    Codes codes;
    for (const StepFinding& row : findings_of(step)) codes.push_back(row.code);
    CAPTURE(step);
    REQUIRE(codes == expected);
  }
}

TEST_CASE("A step that a person does has findings, a retest has none, and no finding lacks a step") {
  std::set<std::string_view> steps;
  for (const IncidentStepRow& row : all_incident_steps()) {
    CAPTURE(row.code);
    steps.insert(row.code);
    REQUIRE(findings_of(row.code).empty() == (row.kind == K::Retest));
    REQUIRE((row.list == L::InternalIndicator || !row.source.empty()));
  }
  for (const StepFinding& row : all_step_findings()) {
    CAPTURE(row.step, row.code);
    REQUIRE(steps.contains(row.step));
    const bool entails = row.recalls_everything || row.calls_for_repair || row.asks_new_retest;
    REQUIRE(row.source.empty() != entails);
  }
}

TEST_CASE("No list has a step twice, and a step waits only for earlier ones of its list") {
  for (const auto& list : Vocabulary<L>::kTerms) {
    std::set<std::string_view> earlier;
    for (const IncidentStepRow& row : incident_steps_of(list.value)) {
      CAPTURE(list.text, row.code);
      for (std::string_view before : row.after) REQUIRE((before.empty() || earlier.contains(before)));
      REQUIRE(earlier.insert(row.code).second);
    }
  }
}

TEST_CASE("A retest rule's step is a retest of its list") {
  for (const RetestRule& rule : all_retest_rules()) {
    const auto rows = incident_steps_of(rule.list);
    const auto row = std::ranges::find(rows, rule.step, &IncidentStepRow::code);
    REQUIRE(row != rows.end());
    REQUIRE(row->kind == K::Retest);
  }
}

}  // namespace loadlight::core
