#include <catch2/catch.hpp>

#include <algorithm>
#include <iostream>
#include <random>

#include "core/release_oracle.h"
#include "loadlight/core/steam.h"

// The rules against a second statement of the design's table of release reasons (release_oracle.h): every
// combination within each group of facts, every pair of two smaller groups, and a long random walk over all
// groups at once.

namespace loadlight::core {
namespace {

constexpr int kRandomLoads = 200000;

void require_agreement(const LoadFacts& facts) {
  const Verdict verdict = judge_release(facts);
  const ReasonSet expected = expected_reasons(facts);
  const bool whole = verdict.outcome() != Outcome::Clear || every_fact_is_present(facts);
  if (agrees(verdict, expected) && whole) return;
  INFO("expected " << listed(expected) << "but found " << listed(set_of(verdict)));
  FAIL();
}

int require_agreement_over(const Group& group, const LoadFacts& start = releasable()) {
  for (const Variation& vary : group) {
    LoadFacts facts = start;
    vary(facts);
    require_agreement(facts);
  }
  return static_cast<int>(group.size());
}

void report(const char* what, int combinations) {
  std::cout << what << ": " << combinations << " combinations\n";
  REQUIRE(combinations > 0);
}

int require_agreement_over_pairs(const Group& outer, const Group& inner) {
  int combinations = 0;
  for (const Variation& vary : outer) {
    LoadFacts facts = releasable();
    vary(facts);
    combinations += require_agreement_over(inner, facts);
  }
  return combinations;
}

std::vector<Group> all_groups() {
  return {programs_and_sterilizers(), readings_around_the_bounds(), indicators_and_days(),
          biologicals_and_implants(), tests_and_incidents(),        states_and_clocks(),
          recalled_lots()};
}

// What speaks against any load; each made true for facts that were given. Worse readings are still possible
// ones: what cannot be one proves nothing either way, and holds.
const std::vector<Variation> kWorse = {
    [](LoadFacts& f) { f.clock_behind = true; },
    [](LoadFacts& f) { f.in_service = false; },
    [](LoadFacts& f) { f.wet_packages = 2; },
    [](LoadFacts& f) { f.state = LoadState::Aborted; },
    [](LoadFacts& f) { f.state = LoadState::Running; },
    [](LoadFacts& f) {
      if (f.holds_implant) f.holds_implant = true;
    },
    [](LoadFacts& f) { f.in_open_incident = true; },
    [](LoadFacts& f) { f.daily_test = DailyTest::Failed; },
    [](LoadFacts& f) { f.indicators.emplace_back(); },
    [](LoadFacts& f) {
      f.biologicals.emplace_back();
      f.biologicals.back().test = BiologicalTest::Growth;
    },
    [](LoadFacts& f) {
      if (f.readings) f.readings->minutes = 0.1;
    },
    [](LoadFacts& f) {
      if (f.readings) f.readings->low_celsius = 1;
    },
    [](LoadFacts& f) {
      if (f.readings && f.readings->drying_minutes == 20) f.readings->drying_minutes.reset();
    },
};

// An aborted load stays so; everything else may be made worse.
bool can_be_made_worse(const LoadFacts& f) {
  return f.state == LoadState::Finished;
}

}  // namespace

TEST_CASE("Every release verdict over readings, programs and sterilizers is what the table says") {
  report("release rules, readings x programs and sterilizers",
         require_agreement_over_pairs(programs_and_sterilizers(), readings_around_the_bounds()));
}

TEST_CASE("Every release verdict over pairs of indicators is what the table says") {
  report("release rules, indicators and their days", require_agreement_over(indicators_and_days()));
}

TEST_CASE("Every release verdict over pairs of biological results is what the table says") {
  report("release rules, biologicals and implants", require_agreement_over(biologicals_and_implants()));
}

TEST_CASE("Every release verdict over profiles, daily tests and incidents is what the table says") {
  report("release rules, readings x profiles, tests and incidents",
         require_agreement_over_pairs(tests_and_incidents(), readings_around_the_bounds()));
  report("release rules, biologicals x profiles, tests and incidents",
         require_agreement_over_pairs(tests_and_incidents(), biologicals_and_implants()));
}

TEST_CASE("Every release verdict over states, clocks, service and wet packages is what the table says") {
  report("release rules, states", require_agreement_over(states_and_clocks()));
}

TEST_CASE("Every release verdict over lots that were recalled is what the table says") {
  report("release rules, recalled lots", require_agreement_over(recalled_lots()));
}

TEST_CASE("Facts drawn from all groups at once give what the table says, and never better for worse") {
  const auto groups = all_groups();
  std::mt19937 draw{20261125};
  int made_worse = 0;
  for (int i = 0; i < kRandomLoads; ++i) {
    LoadFacts facts = releasable();
    for (const Group& group : groups) {
      if (draw() % 2 == 0) group[draw() % group.size()](facts);
    }
    require_agreement(facts);
    if (!can_be_made_worse(facts)) continue;
    LoadFacts worse = facts;
    const std::size_t which = draw() % kWorse.size();
    kWorse[which](worse);
    require_agreement(worse);
    if (judge_release(worse).outcome() < judge_release(facts).outcome()) {
      INFO("change " << which << " took away " << listed(set_of(judge_release(facts))) << "and left "
                     << listed(set_of(judge_release(worse))));
      FAIL();
    }
    ++made_worse;
  }
  report("release rules, random", kRandomLoads);
  report("of them made worse", made_worse);
}

TEST_CASE("A load with whole evidence is clear, and holds when any one fact is missing") {
  REQUIRE(judge_release(releasable()).outcome() == Outcome::Clear);
  const Variation without[] = {
      [](LoadFacts& f) { f.program.reset(); },       [](LoadFacts& f) { f.removal.reset(); },
      [](LoadFacts& f) { f.type.reset(); },          [](LoadFacts& f) { f.in_service.reset(); },
      [](LoadFacts& f) { f.holds_wrapped.reset(); }, [](LoadFacts& f) { f.holds_hollow.reset(); },
      [](LoadFacts& f) { f.holds_implant.reset(); }, [](LoadFacts& f) { f.wet_packages.reset(); },
      [](LoadFacts& f) { f.readings.reset(); },      [](LoadFacts& f) { f.indicators.clear(); },
      [](LoadFacts& f) { f.process_date.reset(); },  [](LoadFacts& f) { f.clock_behind.reset(); }};
  for (const Variation& take : without) {
    LoadFacts facts = releasable();
    take(facts);
    REQUIRE(judge_release(facts).outcome() == Outcome::Hold);
  }
  REQUIRE(judge_release(LoadFacts{}).outcome() != Outcome::Clear);
}

// MMWR 52(RR-17) 2003 VI.F.7: verify the biological result before an implant is used.
TEST_CASE("An implant load waits for a negative result beside a control of its lot that grew") {
  LoadFacts facts = releasable();
  facts.holds_implant = true;
  REQUIRE(judge_release(facts).reasons() == std::vector<Reason>{Reason::BiologicalAwaited});
  BiologicalReading result;
  result.lot = result.control_lot = "L1";
  result.test = BiologicalTest::NoGrowth;
  result.control = BiologicalControl::Growth;
  facts.biologicals = {result};
  REQUIRE(judge_release(facts).outcome() == Outcome::Clear);
  facts.biologicals.front().control_lot = "L2";
  REQUIRE(judge_release(facts).reasons() ==
          std::vector<Reason>{Reason::BiologicalInvalid, Reason::BiologicalAwaited});
}

TEST_CASE("Without an implant a result that is awaited or lost is no reason") {
  LoadFacts facts = releasable();
  facts.biologicals.emplace_back();
  REQUIRE(judge_release(facts).outcome() == Outcome::Clear);
}

// The band of EN 13060, 3 K wide: from memory, hence a note and no reason.
TEST_CASE("A temperature above the band is noted and changes no outcome") {
  for (double above : {0.0, 3.0, 3.1}) {
    LoadFacts facts = releasable();
    facts.readings->high_celsius = facts.program->celsius + above;
    const Verdict verdict = judge_release(facts);
    REQUIRE(verdict.outcome() == Outcome::Clear);
    REQUIRE(verdict.notes().size() == (above > 3 ? 1u : 0u));
  }
}

// IAPWS-IF97: 239.46 kPa is steam of 126 C, 350 kPa steam of 139 C. EN 285, from memory: within 2 K.
TEST_CASE("Typed pressures that belong to cooler or hotter steam hold the load", "[R32]") {
  for (double kpa : {239.46, 350.0}) {
    CAPTURE(kpa);
    LoadFacts facts = releasable();
    facts.readings->pressure_kpa = kpa;
    REQUIRE(judge_release(facts).reasons() == std::vector<Reason>{Reason::SteamNotSaturated});
  }
}

namespace {

// A whole log of a good run: air let out, five minutes of exposure, exhaust, drying; a sample every two
// seconds.
CycleFindings logged(double swing_kelvin, double gap_seconds) {
  CycleSettings settings;
  settings.programmed_celsius = 132;
  settings.nominal_seconds = 2;
  CycleReader reader{settings};
  double seconds = 0;
  const auto add = [&](double celsius, double kpa) {
    REQUIRE(reader.add({seconds, celsius, kpa}));
    seconds += 2;
  };
  for (int i = 0; i < 60; ++i) add(100 + i * 33.5 / 60, *saturation_pressure_kpa(100 + i * 33.5 / 60));
  for (int i = 0; i < 150; ++i) {
    const double celsius = 133.2 + (i % 2 == 0 ? swing_kelvin : 0);
    add(celsius, *saturation_pressure_kpa(celsius));
  }
  for (int i = 0; i < 30; ++i) add(120 - i * 0.5, 200 - i * 4.0);
  seconds += gap_seconds;
  for (int i = 0; i < 700; ++i) add(100, 8);
  for (int i = 0; i < 20; ++i) add(95, 101);
  return reader.findings();
}

std::vector<Note> notes_of(const CycleFindings& findings) {
  LoadFacts facts = releasable();
  facts.has_log = true;
  facts.log = findings;
  return judge_release(facts).notes();
}

bool holds(const std::vector<Note>& notes, Note note) {
  return std::find(notes.begin(), notes.end(), note) != notes.end();
}

}  // namespace

TEST_CASE("A log that swings, or has a gap outside its exposure, is noted and not held for it", "[R35]") {
  CHECK_FALSE(holds(notes_of(logged(0.2, 0)), Note::TemperatureUnsteady));
  CHECK_FALSE(holds(notes_of(logged(0.2, 0)), Note::LogHasGaps));
  CHECK(holds(notes_of(logged(2.4, 0)), Note::TemperatureUnsteady));
  CHECK(holds(notes_of(logged(0.2, 30)), Note::LogHasGaps));
}

TEST_CASE("Of a load's states only a release says nothing against its packages") {
  for (const auto& state : Vocabulary<LoadState>::kTerms) {
    CAPTURE(state.text);
    REQUIRE((verdict_of_state(state.value).outcome() == Outcome::Clear) ==
            (state.value == LoadState::Released));
  }
  REQUIRE(verdict_of_state(static_cast<LoadState>(99)).outcome() == Outcome::Hold);
}

}  // namespace loadlight::core
