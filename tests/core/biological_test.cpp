#include "loadlight/core/biological.h"

#include <catch2/catch.hpp>

#include <vector>

namespace loadlight::core {
namespace {

using Test = BiologicalTest;
using Control = BiologicalControl;
using Standing = BiologicalStanding;
using Readings = std::vector<BiologicalReading>;
using Runs = std::vector<BiologicalRun>;

const Profile& strict() {
  return *find_profile("us-cdc-2003");
}

Profile trusting() {
  Profile profile = strict();
  profile.unreported_control = UnreportedControl::Accepted;
  return profile;
}

BiologicalReading reading(Test test, Control control, int number = 1, std::optional<int> of_run = {}) {
  BiologicalReading r;
  r.number = number;
  r.lot = "B7";
  r.control_lot = "B7";
  r.test = test;
  r.control = control;
  r.of_run = of_run;
  return r;
}

BiologicalReading growth(int number, std::optional<int> of_run = {}) {
  return reading(Test::Growth, Control::Growth, number, of_run);
}
BiologicalReading good(int number, std::optional<int> of_run = {}) {
  return reading(Test::NoGrowth, Control::Growth, number, of_run);
}
BiologicalReading dead(int number, std::optional<int> of_run = {}) {
  return reading(Test::NoGrowth, Control::NoGrowth, number, of_run);
}
BiologicalReading lost(int number, std::optional<int> of_run = {}) {
  return reading(Test::Lost, Control::NotReported, number, of_run);
}

BiologicalRun run(int number, std::string lot = "B7") {
  BiologicalRun r;
  r.number = number;
  r.lot = std::move(lot);
  return r;
}

CivilDate day(int year, unsigned month, unsigned d) {
  return *CivilDate::from(year, month, d);
}

}  // namespace

// MMWR 52(RR-17) 2003 VI.F.6 and OAC 4715-20-02: a control of the same lot; invalid without, from memory.
TEST_CASE("Without growth a test is negative only beside a control of its own lot that grew", "[R25]") {
  REQUIRE(standing_of(good(1), strict()) == Standing::Negative);
  REQUIRE(standing_of(dead(1), strict()) == Standing::Invalid);
  BiologicalReading other_lot = good(1);
  other_lot.control_lot = "B8";
  REQUIRE(standing_of(other_lot, strict()) == Standing::Invalid);
  BiologicalReading no_lots = good(1);
  no_lots.lot = no_lots.control_lot = "";
  REQUIRE(standing_of(no_lots, strict()) == Standing::Invalid);
}

TEST_CASE("A control that is not reported is weighed by the profile", "[R25]") {
  BiologicalReading unreported = reading(Test::NoGrowth, Control::NotReported);
  REQUIRE(standing_of(unreported, strict()) == Standing::Invalid);
  REQUIRE(standing_of(unreported, trusting()) == Standing::Negative);
  unreported.control_lot = "";
  REQUIRE(standing_of(unreported, trusting()) == Standing::Negative);
  unreported.control_lot = "B8";
  REQUIRE(standing_of(unreported, trusting()) == Standing::Invalid);
  REQUIRE(standing_of(dead(1), trusting()) == Standing::Invalid);
}

TEST_CASE("Growth is positive whatever the control, and what was lost is lost", "[R25]") {
  for (const auto& control : Vocabulary<Control>::kTerms) {
    for (const char* lot : {"B7", "B8", ""}) {
      BiologicalReading r = reading(Test::Growth, control.value);
      r.control_lot = lot;
      CAPTURE(control.text, lot);
      REQUIRE(standing_of(r, strict()) == Standing::Positive);
      r.test = Test::Lost;
      REQUIRE(standing_of(r, trusting()) == Standing::Lost);
    }
  }
}

TEST_CASE("A valid negative is a negative and nothing else, for every profile", "[R25]") {
  for (const Profile& profile : all_profiles()) {
    for (const auto& test : Vocabulary<Test>::kTerms) {
      for (const auto& control : Vocabulary<Control>::kTerms) {
        const BiologicalReading r = reading(test.value, control.value);
        const bool expected = test.value == Test::NoGrowth && control.value == Control::Growth;
        CAPTURE(profile.code, test.text, control.text);
        REQUIRE(is_valid_negative(r, profile) == expected);
      }
    }
  }
}

TEST_CASE("A load without a result has no standing") {
  REQUIRE_FALSE(standing_of(Runs{}, Readings{}, strict()));
  REQUIRE_FALSE(standing_of(Runs{run(1)}, Readings{}, strict()));
}

TEST_CASE("A growth once recorded is never outvoted, whenever it was entered") {
  for (const Readings& readings : {Readings{growth(1, 1), good(2, 1)}, Readings{good(1, 1), growth(2, 1)},
                                   Readings{good(1), lost(2), growth(3), good(4)}}) {
    REQUIRE(standing_of(Runs{run(1)}, readings, strict()) == Standing::Positive);
    REQUIRE(standing_of(Runs{run(1), run(2)}, readings, strict()) == Standing::Positive);
  }
}

TEST_CASE("Of results of one indicator that do not show growth the later entry counts, in any order") {
  REQUIRE(standing_of(Runs{run(1)}, Readings{dead(1, 1), good(2, 1)}, strict()) == Standing::Negative);
  REQUIRE(standing_of(Runs{run(1)}, Readings{good(2, 1), dead(1, 1)}, strict()) == Standing::Negative);
  REQUIRE(standing_of(Runs{run(1)}, Readings{good(1, 1), dead(2, 1)}, strict()) == Standing::Invalid);
  REQUIRE(standing_of(Runs{}, Readings{good(1), lost(2)}, strict()) == Standing::Lost);
}

TEST_CASE("Of several indicators in a load the worst speaks, and all must be read") {
  const Runs two = {run(1), run(2)};
  REQUIRE(standing_of(two, Readings{good(1, 1), good(2, 2)}, strict()) == Standing::Negative);
  REQUIRE(standing_of(two, Readings{good(1, 1), dead(2, 2)}, strict()) == Standing::Invalid);
  REQUIRE(standing_of(two, Readings{lost(1, 1), good(2, 2)}, strict()) == Standing::Lost);
  REQUIRE_FALSE(standing_of(two, Readings{good(1, 1)}, strict()));
  REQUIRE(standing_of(two, Readings{growth(1, 1)}, strict()) == Standing::Positive);
}

TEST_CASE("A result that names no run answers the only run of its lot") {
  REQUIRE(standing_of(Runs{run(1), run(2, "C1")}, Readings{good(1), dead(2, 2)}, strict()) ==
          Standing::Invalid);
  REQUIRE(standing_of(Runs{run(1)}, Readings{good(1)}, strict()) == Standing::Negative);
  REQUIRE_FALSE(standing_of(Runs{run(1), run(2)}, Readings{good(1)}, strict()));
  REQUIRE_FALSE(standing_of(Runs{run(1, "C1")}, Readings{good(1)}, strict()));
}

// MMWR 52(RR-17) 2003 VI.F.6 weekly; PIDAC 2013 daily; Danish recommendations 3-monthly, monthly when busy.
TEST_CASE("The next indicator is due by the frequency, counted from the day of the last run", "[R24]") {
  const CivilDate last = day(2026, 11, 30);
  const CivilDate first = day(2026, 1, 5);
  REQUIRE(next_biological_due(Frequency::Daily, last, first) == day(2026, 12, 1));
  REQUIRE(next_biological_due(Frequency::Weekly, last, first) == day(2026, 12, 7));
  REQUIRE(next_biological_due(Frequency::Monthly, last, first) == day(2026, 12, 30));
  REQUIRE(next_biological_due(Frequency::Quarterly, last, first) == day(2027, 2, 28));
}

TEST_CASE("Off asks for no routine test, and never tested is due from the first day of use", "[R24]") {
  for (const auto& frequency : Vocabulary<Frequency>::kTerms) {
    const auto due = next_biological_due(frequency.value, std::nullopt, day(2026, 1, 5));
    CAPTURE(frequency.text);
    REQUIRE(due.has_value() == (frequency.value != Frequency::Off));
    if (due) REQUIRE(*due == day(2026, 1, 5));
  }
  REQUIRE_FALSE(next_biological_due(Frequency::Off, day(2026, 11, 30), day(2026, 1, 5)));
}

}  // namespace loadlight::core
