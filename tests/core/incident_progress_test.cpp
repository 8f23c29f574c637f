#include "loadlight/core/incident_progress.h"

#include <catch2/catch.hpp>

#include <algorithm>

#include "core/incident_case.h"

// Worked cases of the three procedures, fixed by hand from their published texts.

namespace loadlight::core {
namespace {

using Standing = BiologicalStanding;
using Obstacles = std::vector<Obstacle>;

StepState state_of(const IncidentFacts& facts, std::string_view code) {
  for (const StepStatus& status : steps(facts)) {
    if (status.code == code) return status.state;
  }
  FAIL("no step " << code);
  return StepState::NotNeeded;
}

Obstacle undone(std::string_view step) {
  return {ObstacleKind::StepNotDone, step, 0};
}
Obstacle missing(std::string_view step, int count) {
  return {ObstacleKind::NegativesMissing, step, count};
}

int missing_negatives(const IncidentFacts& facts) {
  for (const Obstacle& obstacle : obstacles_to_return(facts)) {
    if (obstacle.kind == ObstacleKind::NegativesMissing) return obstacle.count;
  }
  return 0;
}

IncidentCase dental_repaired() {
  return dental_reviewed()
      .positive()
      .step("judge-positive", "malfunction")
      .step("inspect")
      .step("repair", "repaired");
}
IncidentCase facility_repaired() {
  return facility_checked().positive().step("inspect").step("repair", "repaired");
}
IncidentCase conservative_repaired() {
  return conservative_reviewed().step("inspect").step("repair", "repaired");
}

}  // namespace

// MMWR 52(RR-17) 2003, as quoted: repeat negative and all monitoring adequate, back into service.
TEST_CASE("Dental 2003: one negative retest and an error of handling bring the sterilizer back", "[R49]") {
  IncidentCase told = dental_reviewed();
  REQUIRE(obstacles_to_return(told) == Obstacles{missing("retest", 1), undone("judge-positive")});
  told.negative();
  REQUIRE(obstacles_to_return(told) == Obstacles{undone("judge-positive")});
  told.step("judge-positive", "handling-error");
  REQUIRE(may_return(told));
  REQUIRE(recall_reach(told) == RecallReach::Implants);
  REQUIRE(obstacles_to_close(told, 0, true).empty());
}

TEST_CASE("Dental 2003: the retest counts at once, before the reviews, but does not replace them", "[R49]") {
  IncidentCase told = IncidentCase(Procedure::Dental2003).negative();
  REQUIRE(obstacles_to_return(told) == Obstacles{undone("out-of-service"), undone("review-records"),
                                                 undone("review-procedures"), undone("judge-positive")});
}

// MMWR 52(RR-17) 2003, as quoted: out until inspected, repaired and negative in three empty chambers.
TEST_CASE("Dental 2003: after a second positive, repair and three negatives in an empty chamber", "[R49]") {
  IncidentCase told = dental_reviewed().positive();
  REQUIRE(recall_reach(told) == RecallReach::Everything);
  REQUIRE(obstacles_to_return(told) == Obstacles{undone("judge-positive"),
                                                 undone("inspect"),
                                                 undone("repair"),
                                                 missing("retest-empty", 3),
                                                 {ObstacleKind::NewestRetestPositive, "", 0}});
  told.step("judge-positive", "malfunction").step("inspect", "defect").step("repair", "repaired");
  for (int still = 2; still >= 0; --still) {
    told.negative();
    REQUIRE(missing_negatives(told) == still);
  }
  REQUIRE(may_return(told));
  REQUIRE(obstacles_to_close(told, 0, true) == Obstacles{undone("recall-everything")});
}

TEST_CASE("Dental 2003: a judgement that it was the sterilizer, or that nobody knows, asks its repair",
          "[R49]") {
  for (const char* judged : {"malfunction", "unknown"}) {
    IncidentCase told = dental_reviewed().negative().step("judge-positive", judged);
    CAPTURE(judged);
    REQUIRE(obstacles_to_return(told) ==
            Obstacles{undone("inspect"), undone("repair"), missing("retest-empty", 3)});
    REQUIRE(recall_reach(told) == RecallReach::Everything);
  }
}

// CDC 2008 Table 12: three consecutive cycles; all negative, back in service.
TEST_CASE("Facility 2008: three negatives in a row bring the sterilizer back", "[R49]") {
  IncidentCase told = facility_checked();
  for (int still = 3; still > 0; --still) {
    REQUIRE(obstacles_to_return(told) == Obstacles{missing("retest-three", still)});
    told.negative();
    told.last_retest().empty_chamber = false;
  }
  REQUIRE(may_return(told));
  REQUIRE(recall_reach(told) == RecallReach::Implants);
  REQUIRE(obstacles_to_close(told, 0, true).empty());
}

// CDC 2008 Table 12: more positives, everything recalled; maintenance until the problem is solved.
TEST_CASE("Facility 2008: any of the three positive recalls everything and asks for maintenance", "[R49]") {
  IncidentCase told = facility_checked().negative().negative().positive();
  REQUIRE(recall_reach(told) == RecallReach::Everything);
  REQUIRE(state_of(told, "inspect") == StepState::Due);
  REQUIRE(missing_negatives(told) == 3);
  told.step("inspect").step("repair", "no-fault-found").negative().negative().negative();
  REQUIRE(may_return(told));
}

// MMWR 52(RR-17) 2003, the conservative option; ADA: three consecutive empty-chamber cycles.
TEST_CASE("Conservative: repair and three negatives in an empty chamber, whatever the first retest says",
          "[R49]") {
  IncidentCase told = conservative_reviewed();
  REQUIRE(obstacles_to_return(told) ==
          Obstacles{undone("inspect"), undone("repair"), missing("retest-empty", 3)});
  told.negative().negative().negative();
  REQUIRE(missing_negatives(told) == 3);  // before the repair they prove nothing
  told.step("inspect").step("repair", "repaired").negative().negative();
  REQUIRE(missing_negatives(told) == 1);
  told.negative();
  REQUIRE(may_return(told));
}

TEST_CASE("Three negatives are counted anew after a growth, and inspection and repair are asked again",
          "[R49]") {
  for (IncidentCase told : {dental_repaired(), facility_repaired(), conservative_repaired()}) {
    told.negative().negative().positive();
    REQUIRE(missing_negatives(told) == 3);
    told.negative().negative().negative();
    REQUIRE(state_of(told, "inspect") == StepState::Due);
    REQUIRE_FALSE(may_return(told));
    told.step("inspect").step("repair", "repaired").negative().negative();
    REQUIRE(missing_negatives(told) == 1);
    told.negative();
    REQUIRE(may_return(told));
  }
}

TEST_CASE("A retest that is invalid, lost, awaited or not in order interrupts the row", "[R49]") {
  for (IncidentCase told : {dental_repaired(), facility_repaired(), conservative_repaired()}) {
    for (std::optional<Standing> gap :
         {std::optional{Standing::Invalid}, std::optional{Standing::Lost}, {}}) {
      IncidentCase with_gap = told;
      with_gap.negative().negative().retest(gap).negative();
      REQUIRE(missing_negatives(with_gap) == 2);
    }
    told.negative().negative().negative();
    told.last_retest().mechanical_and_chemical_fine = false;
    REQUIRE(missing_negatives(told) == 3);
  }
}

TEST_CASE("A negative of another program, or of a full chamber, counts for nothing and interrupts nothing",
          "[R49]") {
  for (IncidentCase told : {dental_repaired(), conservative_repaired()}) {
    told.negative().negative();
    told.negative().last_retest().empty_chamber = false;
    told.negative().last_retest().same_program = false;
    REQUIRE(missing_negatives(told) == 1);
    told.negative();
    REQUIRE(may_return(told));
  }
}

TEST_CASE("A second result of the same run is no second retest, and its growth takes the run away", "[R49]") {
  IncidentCase told = conservative_repaired().negative().negative();
  told.negative().last_retest().run -= 1;
  REQUIRE(missing_negatives(told) == 1);
  told.positive().last_retest().run -= 2;
  REQUIRE(missing_negatives(told) == 3);
}

TEST_CASE("Retests count in the order in which they were run, not entered", "[R49]") {
  IncidentCase told = conservative_repaired().negative().negative().negative();
  REQUIRE(may_return(told));
  told.positive().last_retest().run = 1;  // run first, reported last
  told.last_retest().after_steps = 0;
  REQUIRE(may_return(told));
  told.positive().last_retest().run = 132;  // run between them, reported last
  REQUIRE_FALSE(may_return(told));
}

TEST_CASE("A defect that was found is repaired, not declared absent", "[R49]") {
  IncidentCase told = conservative_reviewed().step("inspect", "defect").step("repair", "no-fault-found");
  REQUIRE(state_of(told, "repair") == StepState::Due);
  told.negative().negative().negative();
  REQUIRE_FALSE(may_return(told));
  told.step("repair", "repaired").negative().negative().negative();
  REQUIRE(may_return(told));
}

TEST_CASE("A retest run before a defect of the procedure was found and mended proves nothing", "[R49]") {
  IncidentCase told = IncidentCase(Procedure::Dental2003).step("out-of-service", "done").negative();
  told.step("review-records").step("review-procedures", "defect").step("judge-positive", "handling-error");
  REQUIRE(obstacles_to_return(told) == Obstacles{missing("retest", 1)});
  told.negative();
  REQUIRE(may_return(told));
}

// MMWR 52(RR-17) 2003 and CDC 2008 Table 12: the first step is to remove the sterilizer from service.
TEST_CASE("Whatever the procedure a positive first takes the sterilizer out of service, and it stays there",
          "[R44]") {
  for (const auto& procedure : Vocabulary<Procedure>::kTerms) {
    const IncidentCase told(procedure.value);
    CAPTURE(procedure.text);
    REQUIRE(steps(told).front().code == "out-of-service");
    REQUIRE(steps(told).front().state == StepState::Due);
    REQUIRE_FALSE(may_return(told));
  }
}

TEST_CASE("Implants are recalled at once, the rest when the procedure says so", "[R48]") {
  REQUIRE(recall_reach(IncidentCase(Procedure::Dental2003)) == RecallReach::Implants);
  REQUIRE(recall_reach(IncidentCase(Procedure::Facility2008)) == RecallReach::Implants);
  REQUIRE(recall_reach(IncidentCase(Procedure::Conservative)) == RecallReach::Everything);
  REQUIRE(recall_reach(dental_reviewed().negative()) == RecallReach::Implants);
  REQUIRE(recall_reach(dental_reviewed().retest(Standing::Invalid)) == RecallReach::Implants);
  REQUIRE(recall_reach(IncidentCase(Procedure::Dental2003).step("review-records", "defect")) ==
          RecallReach::Everything);
  REQUIRE(recall_reach(IncidentCase(Procedure::Facility2008).step("check-settings", "defect")) ==
          RecallReach::Everything);
}

TEST_CASE("What one finding recalls a later finding of the same step does not give back", "[R48]") {
  IncidentCase told = dental_reviewed().step("review-procedures", "defect").step("review-procedures", "fine");
  REQUIRE(recall_reach(told) == RecallReach::Everything);
  IncidentCase load =
      IncidentCase::of_indicator().step("decide-load", "recall").step("decide-load", "lift-hold");
  REQUIRE(recall_reach(load) == RecallReach::Everything);
}

TEST_CASE("Everything can be called back at any time, and is then the reach", "[R48]") {
  IncidentCase told(Procedure::Facility2008);
  REQUIRE(state_of(told, "recall-everything") == StepState::NotNeeded);
  REQUIRE(may_be_done(told, "recall-everything"));
  told.step("recall-everything", "recalled");
  REQUIRE(recall_reach(told) == RecallReach::Everything);
  REQUIRE(state_of(told, "recall-everything") == StepState::Done);
}

TEST_CASE("A narrowed range is confirmed before closing, and again after a growth", "[R46]") {
  IncidentCase told = facility_checked().narrowed().negative().negative().negative();
  REQUIRE(may_return(told));
  REQUIRE(obstacles_to_close(told, 0, true) == Obstacles{undone("confirm-range")});
  told.step("confirm-range", "stands");
  REQUIRE(obstacles_to_close(told, 0, true).empty());
  REQUIRE(state_of(told.positive(), "confirm-range") == StepState::Due);
}

TEST_CASE("An incident stays open until every package is accounted for and the sterilizer is back", "[R50]") {
  IncidentCase told = dental_reviewed().negative().step("judge-positive", "handling-error");
  REQUIRE(obstacles_to_close(told, 0, true).empty());
  REQUIRE(obstacles_to_close(told, 3, true) == Obstacles{{ObstacleKind::PackagesUnaccounted, "", 3}});
  REQUIRE(obstacles_to_close(told, -1, true).size() == 1);
  REQUIRE(obstacles_to_close(told, 0, false) == Obstacles{{ObstacleKind::SterilizerNotReturned, "", 0}});
  REQUIRE(obstacles_to_close(dental_reviewed(), 0, true) ==
          Obstacles{missing("retest", 1), undone("judge-positive")});
}

TEST_CASE("A sterilizer that is gone for good needs no retest once everything is recalled, and not before",
          "[R50]") {
  IncidentCase told = dental_reviewed();
  REQUIRE_FALSE(obstacles_to_close(told, 0, true).empty());
  told.step("recall-everything", "recalled");
  REQUIRE(obstacles_to_close(told, 0, true).empty());
  REQUIRE(obstacles_to_close(told, 1, true).size() == 1);
  REQUIRE_FALSE(may_return(told));
}

TEST_CASE("One load's incident ends with a decision, its sterilizer never out of service", "[R22]") {
  IncidentCase told = IncidentCase::of_indicator();
  REQUIRE(may_return(told));
  REQUIRE(recall_reach(told) == RecallReach::Nothing);
  REQUIRE(state_of(told, "decide-load") == StepState::Waits);
  told.step("check-loading", "defect").step("check-other-indicators", "changed");
  REQUIRE(recall_reach(told) == RecallReach::Nothing);
  IncidentCase recalled = told;
  told.step("decide-load", "lift-hold");
  REQUIRE(obstacles_to_close(told, 0, false).empty());
  recalled.step("decide-load", "recall");
  REQUIRE(recall_reach(recalled) == RecallReach::Everything);
  REQUIRE(obstacles_to_close(recalled, 0, false) == Obstacles{undone("recall-everything")});
}

TEST_CASE("A second indicator unchanged in the same load recalls the load", "[R22]") {
  IncidentCase told = IncidentCase::of_indicator().step("check-other-indicators", "unchanged");
  REQUIRE(recall_reach(told) == RecallReach::Everything);
}

TEST_CASE("Steps are due, wait and are done in the order that the procedure gives them") {
  IncidentCase told(Procedure::Conservative);
  REQUIRE(state_of(told, "inspect") == StepState::Waits);
  REQUIRE_FALSE(may_be_done(told, "inspect"));
  told.step("out-of-service", "done");
  REQUIRE(state_of(told, "out-of-service") == StepState::Done);
  REQUIRE(may_be_done(told, "inspect"));
  REQUIRE(state_of(told, "repair") == StepState::Waits);
  told.step("inspect", "defect");
  REQUIRE(state_of(told, "repair") == StepState::Due);
  REQUIRE(state_of(told, "retest-empty") == StepState::Waits);
  told.step("repair", "repaired");
  REQUIRE(state_of(told, "retest-empty") == StepState::Due);
  REQUIRE_FALSE(may_be_done(told, "retest-empty"));
  REQUIRE_FALSE(may_be_done(told, "retest"));
  REQUIRE_FALSE(may_be_done(told, "no such step"));
}

TEST_CASE("A step with a finding that it does not know is not done") {
  IncidentCase told(Procedure::Facility2008);
  told.step("check-settings", "splendid");
  REQUIRE(state_of(told, "check-settings") == StepState::Due);
  REQUIRE(recall_reach(told) == RecallReach::Everything);
  told.step("no such step", "defect").step("review-records", "defect");  // of another list
  REQUIRE(state_of(told, "inspect") == StepState::NotNeeded);
}

}  // namespace loadlight::core
