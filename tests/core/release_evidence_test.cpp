#include <algorithm>
#include <catch2/catch.hpp>

#include "core/release_oracle.h"

// What each line of a cycle log, each value of a profile and each sheet does to a release, one at a time: so that
// no rule can lose a line without a test that fails.

namespace loadlight::core {
namespace {

// A log at 132 degrees that keeps every limit of dynamic-132-wrapped by a little.
CycleFindings good_log() {
  CycleFindings log;
  log.settings.programmed_celsius = 132;
  log.samples = 2000;
  log.exposure = Exposure{.start_seconds = 600,
                          .end_seconds = 850,
                          .samples = 251,
                          .low_celsius = 132.6,
                          .high_celsius = 133.4,
                          .largest_step_kelvin = 0.1,
                          .low_kpa = 290,
                          .high_kpa = 300,
                          .superheat_kelvin = 0.5,
                          .deficit_kelvin = 0.5};
  log.exhausted = true;
  log.drying_minutes = 21;
  log.longest_step_seconds = 1;
  return log;
}

LoadFacts with_log() {
  LoadFacts facts = releasable();
  facts.readings.reset();
  facts.has_log = true;
  facts.log = good_log();
  return facts;
}

std::vector<Reason> worst_first(std::vector<Reason> reasons) {
  std::sort(reasons.begin(), reasons.end());
  return reasons;
}

bool has_note(const Verdict& verdict, Note note) {
  return std::find(verdict.notes().begin(), verdict.notes().end(), note) != verdict.notes().end();
}

struct Flaw final {
  const char* what;
  void (*make)(CycleFindings&);
  std::vector<Reason> reasons;
  std::vector<Note> notes;
};

const std::vector<Flaw> kFlaws{
    {"none", [](CycleFindings&) {}, {}, {}},
    {"ends before its exhaust", [](CycleFindings& l) { l.exhausted = false; },
     {Reason::MechanicalEvidenceIncomplete}, {}},
    {"nobody knows whether it was exhausted", [](CycleFindings& l) { l.exhausted.reset(); },
     {Reason::MechanicalEvidenceIncomplete}, {}},
    {"one pressure missing, the others none of saturated steam",
     [](CycleFindings& l) {
       l.exposure->without_pressure = 1;
       l.exposure->superheat_kelvin = l.exposure->deficit_kelvin = 5;
     },
     {Reason::MechanicalEvidenceIncomplete, Reason::SteamNotSaturated}, {}},
    {"too short", [](CycleFindings& l) { l.exposure->end_seconds = 830; }, {Reason::ExposureShort}, {}},
    {"too cool", [](CycleFindings& l) { l.exposure->low_celsius = 132.4; }, {Reason::ExposureShort}, {}},
    {"superheated", [](CycleFindings& l) { l.exposure->superheat_kelvin = 2.1; }, {Reason::SteamNotSaturated}, {}},
    {"air trapped", [](CycleFindings& l) { l.exposure->deficit_kelvin = 2.1; }, {Reason::SteamNotSaturated}, {}},
    {"dried too short", [](CycleFindings& l) { l.drying_minutes = 19; }, {Reason::DryingShort}, {}},
    {"above its band and unsteady", [](CycleFindings& l) { l.exposure->high_celsius = 134.8; }, {},
     {Note::AboveBand, Note::TemperatureUnsteady}},
    {"with a gap", [](CycleFindings& l) { l.longest_step_seconds = 2.5; }, {}, {Note::LogHasGaps}},
};

TEST_CASE("Each flaw of a log speaks against the release as its line says, or is noted") {
  for (const Flaw& flaw : kFlaws) {
    INFO(flaw.what);
    LoadFacts facts = with_log();
    flaw.make(*facts.log);
    const Verdict verdict = judge_release(facts);
    CHECK(verdict.reasons() == worst_first(flaw.reasons));
    CHECK((verdict.outcome() == Outcome::Clear) == flaw.reasons.empty());
    CHECK(verdict.notes() == flaw.notes);
  }
}

TEST_CASE("An office's own margin and its own distance from saturated steam count") {
  LoadFacts facts = with_log();
  facts.profile->sensor_margin_kelvin = 1.0;  // the log was read for half a kelvin, so its time says nothing either
  CHECK(judge_release(facts).reasons() ==
        worst_first({Reason::ExposureShort, Reason::MechanicalEvidenceIncomplete}));
  facts = with_log();
  facts.profile->steam_kelvin = 0.4;
  CHECK(judge_release(facts).reasons() == std::vector{Reason::SteamNotSaturated});
}

TEST_CASE("A line of the evidence names the source of its program") {
  const LoadFacts facts = with_log();
  int named = 0;
  for (const CriterionResult& line : mechanical_criteria(facts)) {
    if (line.code == "exposure" || line.code == "lowest-temperature" || line.code == "drying") {
      CHECK(line.source == facts.program->source);
      ++named;
    }
  }
  CHECK(named == 3);
}

// Common practice: the sheet of a Bowie-Dick test lies in its pack, and is of type 2.
TEST_CASE("Only a type 2 sheet in its pack is read for a test of the air removal") {
  for (const bool in_pack : {true, false}) {
    for (const int type : {1, 2, 5}) {
      INFO(in_pack << " " << type);
      LoadFacts facts = releasable();
      facts.purpose = LoadPurpose::BowieDick;
      facts.indicators.front().place = in_pack ? IndicatorPlace::ProcessChallenge : IndicatorPlace::External;
      facts.indicators.front().type = type;
      const bool is_sheet = in_pack && type == 2;
      CHECK(judge_release(facts).has(Reason::DailyTestMissing) != is_sheet);
      facts.indicators.front().passed = false;
      CHECK(judge_release(facts).has(Reason::DailyTestFailed) == is_sheet);
    }
  }
}

TEST_CASE("A leak test is missing until its leak was read, and then is what was read") {
  LoadFacts facts = releasable();
  facts.purpose = LoadPurpose::Leak;
  CHECK(judge_release(facts).reasons() == std::vector{Reason::DailyTestMissing});
  facts.leak = LeakTest{.kpa_per_minute = 0.5, .passed = false};
  CHECK(judge_release(facts).reasons() == std::vector{Reason::DailyTestFailed});
  facts.leak->passed = true;
  CHECK(judge_release(facts).outcome() == Outcome::Clear);
}

TEST_CASE("A log that was read in and cannot be had holds") {
  LoadFacts facts = with_log();
  facts.log.reset();
  CHECK(judge_release(facts).outcome() == Outcome::Hold);
}

TEST_CASE("A retest is not held up by the day's test that it stands beside") {
  for (const DailyTest standing : {DailyTest::Missing, DailyTest::Failed}) {
    LoadFacts facts = releasable();
    facts.purpose = LoadPurpose::Retest;
    facts.daily_test = standing;
    CHECK_FALSE(judge_release(facts).has(Reason::DailyTestMissing));
    CHECK_FALSE(judge_release(facts).has(Reason::DailyTestFailed));
  }
}

TEST_CASE("Without a program or a profile nothing is asked, and unknown packages are taken for wrapped ones") {
  for (const bool program_is_gone : {true, false}) {
    LoadFacts facts = with_log();
    if (program_is_gone) {
      facts.program.reset();
    } else {
      facts.profile.reset();
    }
    CHECK(mechanical_criteria(facts).empty());
    CHECK(mechanical_limits(facts).set_celsius == 0);
  }
  LoadFacts facts = with_log();
  facts.holds_wrapped.reset();
  CHECK(mechanical_limits(facts).drying_minutes == 20);
}

// A load of Ontario's that carries a biological indicator, and a passed type 5 indicator in its test package.
LoadFacts tested_in_ontario() {
  LoadFacts facts = releasable();
  facts.profile = *find_profile("ontario");
  facts.now = Instant{std::chrono::hours{1000}};
  BiologicalRun run;
  run.number = 1;
  run.due_at = *facts.now;
  run.lot = run.control_lot = "BI-0417";
  facts.biological_runs = {run};
  IndicatorReading type5 = facts.indicators.front();
  type5.place = IndicatorPlace::ProcessChallenge;
  type5.type = 5;
  facts.indicators.push_back(type5);
  return facts;
}

TEST_CASE("A release by an indicator is noted until the biological result is there") {
  LoadFacts facts = tested_in_ontario();
  CHECK(has_note(judge_release(facts), Note::ReleasedByIndicator));
  BiologicalReading negative;
  negative.of_run = 1;
  negative.lot = negative.control_lot = "BI-0417";
  negative.test = BiologicalTest::NoGrowth;
  negative.control = BiologicalControl::Growth;
  facts.biologicals = {negative};
  CHECK_FALSE(has_note(judge_release(facts), Note::ReleasedByIndicator));
}

TEST_CASE("A biological result is overdue after its time and not at it") {
  LoadFacts facts = tested_in_ontario();
  CHECK_FALSE(has_note(judge_release(facts), Note::BiologicalOverdue));
  facts.now = *facts.now + std::chrono::milliseconds{1};
  CHECK(has_note(judge_release(facts), Note::BiologicalOverdue));
}

}  // namespace
}  // namespace loadlight::core
