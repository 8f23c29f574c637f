#include "loadlight/core/due.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>
#include <set>

namespace loadlight::core {
namespace {

using Items = std::vector<DueItem>;

CivilDate today() {
  return *CivilDate::from(2026, 11, 25);
}
CivilDate day(int from_today) {
  return today().plus_days(from_today);
}
DueWindow window(int near_days = 14) {
  return {today(), near_days};
}

const Profile& dental() {
  return *find_profile("us-cdc-2003");
}

Profile with(Frequency biological, BiologicalChains chains = BiologicalChains::Pooled) {
  Profile profile = dental();
  profile.biological = biological;
  profile.chains = chains;
  return profile;
}

// Tested `run` days from today and used every day until today.
TestRhythm rhythm(int run, std::string program = "") {
  return {std::move(program), day(-200), today(), day(run)};
}

SterilizerDue sterilizer(AirRemoval removal = AirRemoval::Gravity) {
  SterilizerDue s;
  s.code = "S1";
  s.removal = removal;
  s.biological = {rhythm(0)};
  s.air_removal = rhythm(0);
  s.leak = rhythm(0);
  return s;
}

Items of_kind(const Items& items, DueKind kind) {
  Items found;
  std::ranges::copy_if(items, std::back_inserter(found), [&](const DueItem& i) { return i.kind == kind; });
  return found;
}

Items of_kind(const SterilizerDue& s, DueKind kind, const Profile& profile) {
  return of_kind(due_of(s, profile, window()), kind);
}

// Whether each kind of item, due on this day, is shown and late.
void require_boundaries(const std::function<Items(CivilDate when)>& due_on) {
  REQUIRE(due_on(day(1)).size() == 1);
  REQUIRE_FALSE(due_on(day(1)).front().overdue);
  REQUIRE_FALSE(due_on(day(0)).front().overdue);
  REQUIRE(due_on(day(-1)).front().overdue);
  REQUIRE(due_on(day(14)).size() == 1);
  REQUIRE(due_on(day(15)).empty());
}

}  // namespace

// MMWR 52(RR-17) 2003 VI.F.6: at least weekly.
TEST_CASE("A weekly test is due seven days after its run: not late that day, late the day after", "[R24]") {
  const auto run_days_ago = [](int days) {
    SterilizerDue s = sterilizer();
    s.biological = {rhythm(-days)};
    return of_kind(s, DueKind::BiologicalRun, dental()).at(0);
  };
  REQUIRE(run_days_ago(6) == DueItem{DueKind::BiologicalRun, "S1", day(1), false});
  REQUIRE(run_days_ago(7) == DueItem{DueKind::BiologicalRun, "S1", day(0), false});
  REQUIRE(run_days_ago(8) == DueItem{DueKind::BiologicalRun, "S1", day(-1), true});
}

TEST_CASE("A result that is still open moves no due day: the run counts", "[R24]") {
  SterilizerDue s = sterilizer();
  s.biological = {rhythm(-8)};
  s.open_results = {{"S1-204", day(-1)}};
  const Items items = due_of(s, dental(), window());
  REQUIRE(of_kind(items, DueKind::BiologicalRun).at(0).when == day(-1));
  REQUIRE(of_kind(items, DueKind::BiologicalResult) ==
          Items{{DueKind::BiologicalResult, "S1-204", day(-1), true}});
}

// PIDAC 2013 as listed: each cycle type used; MMWR 2003: the sterilizer.
TEST_CASE("Chains by program ask a test of each program, pooled ones one of the sterilizer", "[R24]") {
  SterilizerDue s = sterilizer();
  s.biological = {rhythm(-3, "A"), rhythm(-9, "B")};
  REQUIRE(of_kind(s, DueKind::BiologicalRun, with(Frequency::Weekly)) ==
          Items{{DueKind::BiologicalRun, "S1", day(4), false}});
  REQUIRE(of_kind(s, DueKind::BiologicalRun, with(Frequency::Weekly, BiologicalChains::PerProgram)) ==
          Items{{DueKind::BiologicalRun, "S1 A", day(4), false},
                {DueKind::BiologicalRun, "S1 B", day(-2), true}});
}

TEST_CASE("A daily test is due on the day of use, and late where a day of use went without it", "[R24]") {
  TestRhythm r = rhythm(-1);
  REQUIRE(next_test_due(Frequency::Daily, r, today()) == today());
  r.last_used = day(-1);
  REQUIRE(next_test_due(Frequency::Daily, r, today()) == today());
  r.last_run = day(-5);
  REQUIRE(next_test_due(Frequency::Daily, r, today()) == day(-1));
  r.last_used = day(-5);
  REQUIRE(next_test_due(Frequency::Daily, r, today()) == today());
  r.last_used.reset();
  REQUIRE(next_test_due(Frequency::Daily, r, today()) == day(-4));
  r.last_run = today();
  REQUIRE_FALSE(next_test_due(Frequency::Daily, r, today()));
}

TEST_CASE("Nothing is late of a sterilizer that was not used since its last test", "[R24]") {
  TestRhythm r = rhythm(-30);
  r.last_used = day(-30);
  REQUIRE(next_test_due(Frequency::Weekly, r, today()) == today());
  r.last_used = day(-29);
  REQUIRE(next_test_due(Frequency::Weekly, r, today()) == day(-23));
  r.last_used.reset();
  REQUIRE(next_test_due(Frequency::Weekly, r, today()) == day(-23));
}

TEST_CASE("Pooled, a program of which the last use is not known keeps the test late", "[R24]") {
  SterilizerDue s = sterilizer();
  s.biological = {rhythm(-30, "A"), rhythm(-40, "B")};
  s.biological[0].last_used = day(-30);
  s.biological[1].last_used.reset();
  REQUIRE(of_kind(s, DueKind::BiologicalRun, dental()).at(0).overdue);
}

TEST_CASE("Never tested: due from the first day of use, today where it was never used, and never if off",
          "[R24]") {
  TestRhythm r = rhythm(0);
  r.last_run.reset();
  r.first_used = day(-2);
  for (Frequency frequency :
       {Frequency::Daily, Frequency::Weekly, Frequency::Monthly, Frequency::Quarterly}) {
    REQUIRE(next_test_due(frequency, r, today()) == day(-2));
    REQUIRE(next_test_due(frequency, TestRhythm{}, today()) == today());
  }
  REQUIRE_FALSE(next_test_due(Frequency::Off, r, today()));
  SterilizerDue s = sterilizer();
  s.biological.clear();
  REQUIRE(of_kind(s, DueKind::BiologicalRun, dental()).size() == 1);
  REQUIRE(of_kind(s, DueKind::BiologicalRun, with(Frequency::Off)).empty());
}

// CDC 2008 as quoted: each day used, dynamic air removal only. HTM 01-05 as reported: weekly leakage test.
TEST_CASE("Air removal is tested daily where air is pumped out, and nowhere else", "[R27]") {
  for (AirRemoval removal : {AirRemoval::Gravity, AirRemoval::Dynamic}) {
    SterilizerDue s = sterilizer(removal);
    REQUIRE(of_kind(s, DueKind::AirRemovalTest, dental()).empty());  // passed today
    s.air_removal = rhythm(-1);
    s.leak = rhythm(-8);
    const bool pumped = removal == AirRemoval::Dynamic;
    const Items wanted = {{DueKind::AirRemovalTest, "S1", today(), false}};
    REQUIRE(of_kind(s, DueKind::AirRemovalTest, dental()) == (pumped ? wanted : Items{}));
    REQUIRE(of_kind(s, DueKind::LeakTest, dental()).empty());
    const Items leak = {{DueKind::LeakTest, "S1", day(-1), true}};
    REQUIRE(of_kind(s, DueKind::LeakTest, *find_profile("uk")) == (pumped ? leak : Items{}));
  }
}

TEST_CASE("Out of service no routine test is due, but results, service and retests are") {
  SterilizerDue s = sterilizer(AirRemoval::Dynamic);
  s.in_service = false;
  s.biological = {rhythm(-80)};
  s.air_removal = rhythm(-80);
  s.open_results = {{"S1-9", today()}};
  s.next_service = today();
  s.demand = {ServiceKind::Repair, today(), false, false};
  std::set<DueKind> kinds;
  for (const DueItem& item : due_of(s, dental(), window())) kinds.insert(item.kind);
  REQUIRE(kinds ==
          std::set<DueKind>{DueKind::BiologicalResult, DueKind::Service, DueKind::RetestAfterService});
  s.retired = true;
  REQUIRE(due_of(s, dental(), window()).size() == 1);
}

// CDC 2008 as quoted: after install, move, malfunction, major repair; Danish recommendations: after repair.
TEST_CASE("Installation, repair and move ask for a biological and an air-removal test, other events none",
          "[R27]") {
  for (const auto& kind : Vocabulary<ServiceKind>::kTerms) {
    const bool asks = kind.value == ServiceKind::Installed || kind.value == ServiceKind::Repair ||
                      kind.value == ServiceKind::Moved;
    for (AirRemoval removal : {AirRemoval::Gravity, AirRemoval::Dynamic}) {
      for (bool negative : {false, true}) {
        for (bool air : {false, true}) {
          SterilizerDue s = sterilizer(removal);
          s.demand = {kind.value, today(), negative, air};
          CAPTURE(kind.text, negative, air);
          const bool open = asks && (!negative || (removal == AirRemoval::Dynamic && !air));
          REQUIRE(of_kind(s, DueKind::RetestAfterService, dental()).size() == (open ? 1u : 0u));
          const bool without_biological = asks && removal == AirRemoval::Dynamic && !air;
          REQUIRE(of_kind(s, DueKind::RetestAfterService, with(Frequency::Off)).size() ==
                  (without_biological ? 1u : 0u));
        }
      }
    }
  }
  REQUIRE(all_service_rules().size() == std::size(Vocabulary<ServiceKind>::kTerms));
}

TEST_CASE("What has a due day is not late on it, late the day after, and shown from fourteen days before") {
  require_boundaries([](CivilDate when) {
    SterilizerDue s = sterilizer();
    s.next_service = when;
    return of_kind(s, DueKind::Service, dental());
  });
  require_boundaries([](CivilDate when) {
    SterilizerDue s = sterilizer();
    s.open_results = {{"S1-9", when}};
    return of_kind(s, DueKind::BiologicalResult, dental());
  });
  require_boundaries([](CivilDate when) {
    SterilizerDue s = sterilizer();
    s.demand = {ServiceKind::Repair, when, false, false};
    return of_kind(s, DueKind::RetestAfterService, dental());
  });
  require_boundaries([](CivilDate when) { return due_of(PackageDue{"P", when}, window()); });
  require_boundaries([](CivilDate when) { return due_of(ProgramDue{"P", when}, window()); });
  require_boundaries([](CivilDate when) { return due_of(IncidentDue{1, when, {}}, window()); });
}

TEST_CASE("A lot is late from the day after it expires, and a retired one is not listed", "[R37]") {
  Consumable lot;
  lot.lot = "CI-0417";
  require_boundaries([&](CivilDate when) {
    lot.expires = when;
    return due_of(lot, window());
  });
  lot.expires = day(-1);
  REQUIRE(due_of(lot, window()) == Items{{DueKind::ConsumableExpiry, "CI-0417", day(-1), true}});
  lot.retired_on = today();
  REQUIRE(due_of(lot, window()).empty());
  lot.retired_on = day(1);
  REQUIRE(due_of(lot, window()).size() == 1);
}

TEST_CASE("A finished load waits for a decision, a quarantined one for its result", "[R23]") {
  require_boundaries([](CivilDate when) {
    return due_of(LoadDue{"S1-9", LoadState::Finished, when, std::nullopt, false, false}, window());
  });
  require_boundaries([](CivilDate when) {
    return due_of(LoadDue{"S1-9", LoadState::Quarantined, day(-3), when, false, false}, window());
  });
  for (const auto& state : Vocabulary<LoadState>::kTerms) {
    const Items items = due_of(LoadDue{"S1-9", state.value, day(-1), std::nullopt, false, false}, window());
    CAPTURE(state.text);
    const bool waits = state.value == LoadState::Finished || state.value == LoadState::Quarantined;
    REQUIRE(items.size() == (waits ? 1u : 0u));
  }
}

TEST_CASE("An emergency release stays due until its biological result is known", "[R23]") {
  LoadDue load{"S1-9", LoadState::Released, day(-3), day(1), true, false};
  REQUIRE(due_of(load, window()) == Items{{DueKind::EmergencyReleaseResult, "S1-9", day(1), false}});
  load.result_due.reset();
  REQUIRE(due_of(load, window()) == Items{{DueKind::EmergencyReleaseResult, "S1-9", day(-3), true}});
  load.biological_known = true;
  REQUIRE(due_of(load, window()).empty());
}

TEST_CASE("An open incident lists each step that is due, and itself where none is", "[R50]") {
  IncidentFacts facts;
  IncidentDue incident{3, day(-1), steps(facts)};
  const Items items = due_of(incident, window());
  REQUIRE(items.size() == 5);
  REQUIRE(items.front() == DueItem{DueKind::IncidentStep, "3 out-of-service", day(-1), true});
  for (StepStatus& status : incident.steps) status.state = StepState::Done;
  REQUIRE(due_of(incident, window()) == Items{{DueKind::IncidentStep, "3", day(-1), true}});
}

TEST_CASE("Without days to look ahead what is late and what is due today is still listed") {
  for (int near_days : {0, -5}) {
    REQUIRE(due_of(PackageDue{"P", day(-9)}, window(near_days)).size() == 1);
    REQUIRE(due_of(PackageDue{"P", today()}, window(near_days)).size() == 1);
    REQUIRE(due_of(PackageDue{"P", day(1)}, window(near_days)).empty());
  }
}

TEST_CASE("What is due is listed by day, then by kind, then by subject") {
  const Items in_order = {
      {DueKind::Service, "S1", day(-1), true},         {DueKind::IncidentStep, "3 notify", today(), false},
      {DueKind::AirRemovalTest, "S1", today(), false}, {DueKind::AirRemovalTest, "S2", today(), false},
      {DueKind::PackageExpiry, "P", today(), false},   {DueKind::IncidentStep, "4 notify", day(2), false}};
  Items items = in_order;
  std::ranges::reverse(items);
  REQUIRE(sorted(items) == in_order);
  REQUIRE(sorted({}).empty());
}

}  // namespace loadlight::core
