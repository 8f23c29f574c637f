#include <catch2/catch.hpp>

#include <iostream>

#include "core/package_oracle.h"

// The rules against a second statement of the design's table of package reasons (package_oracle.h), over
// every combination of facts that the two walks make.

namespace loadlight::core {
namespace {

using Walk = void (*)(const std::function<void(const PackageFacts&)>&);

// How often `holds` was asked; fails the test at the first facts for which it does not hold.
int count_where(Walk walk, const std::function<bool(const PackageFacts&)>& holds) {
  int asked = 0;
  walk([&](const PackageFacts& facts) {
    ++asked;
    if (holds(facts)) return;
    INFO("combination " << asked << ": expected " << listed(expected_reasons(facts)) << "but found "
                        << listed(set_of(judge_package(facts))));
    FAIL();
  });
  return asked;
}

bool agrees_with_the_table(const PackageFacts& facts) {
  return agrees(judge_package(facts), expected_reasons(facts));
}

bool is_clear_only_when_whole(const PackageFacts& facts) {
  if (judge_package(facts).outcome() != Outcome::Clear) return true;
  if (!every_fact_is_present(facts)) return false;
  for (const PackageFacts& poorer : made_poorer(facts)) {
    if (judge_package(poorer).outcome() != Outcome::Hold) return false;
  }
  return true;
}

bool is_never_better_for_worse_facts(const PackageFacts& facts) {
  const Outcome before = judge_package(facts).outcome();
  for (const PackageFacts& worse : made_worse(facts)) {
    if (judge_package(worse).outcome() < before) return false;
  }
  return true;
}

void require_everywhere(const char* what, const std::function<bool(const PackageFacts&)>& holds) {
  const int sightings = count_where(each_sighting, holds);
  const int records = count_where(each_record, holds);
  std::cout << what << ": " << sightings << " sightings, " << records << " records\n";
  REQUIRE(sightings > 0);
  REQUIRE(records > 0);
}

PackageFacts facts_that_clear() {
  PackageFacts f;
  f.seen = Seen::PackageLabel;
  f.record = RecordState::Whole;
  f.authentic = true;
  f.old_label_beside = false;
  f.in_record = true;
  f.package = PackageOnRecord{PackageState::Loaded, false, false, walk_today(), walk_today(), std::nullopt};
  f.load = LoadOnRecord{LoadState::Released, walk_today(), false, false};
  f.clock_behind = false;
  f.today = walk_today();
  return f;
}

}  // namespace

TEST_CASE("Every package verdict is what the design's table says, its reasons worst first") {
  require_everywhere("package rules against the table", agrees_with_the_table);
}

TEST_CASE("A package is clear only when every fact is present, and holds when one is taken away") {
  require_everywhere("clear only when whole", is_clear_only_when_whole);
}

TEST_CASE("One more fact against a package never makes its verdict better") {
  require_everywhere("never better for worse", is_never_better_for_worse_facts);
}

TEST_CASE("A released package in date with an authentic label is clear on the last day of its label") {
  REQUIRE(judge_package(facts_that_clear()).outcome() == Outcome::Clear);
  REQUIRE(judge_package(facts_that_clear()).reasons().empty());
}

TEST_CASE("Facts that nobody filled in hold") {
  const Verdict verdict = judge_package(PackageFacts{});
  REQUIRE(verdict.outcome() == Outcome::Hold);
  REQUIRE(verdict.has(Reason::NotAPackageLabel));
  REQUIRE(verdict.has(Reason::RecordDamaged));
}

TEST_CASE("A package that was only told by the record is never clear, whatever else the record says of it") {
  const auto never_clear = [](const PackageFacts& facts) {
    return facts.seen != Seen::Matched || (judge_package(facts).outcome() != Outcome::Clear &&
                                           judge_package(facts).has(Reason::LabelNotRead));
  };
  require_everywhere("matched is never clear", never_clear);
  PackageFacts f = facts_that_clear();
  f.seen = Seen::Matched;
  REQUIRE(judge_package(f).reasons() == std::vector<Reason>{Reason::LabelNotRead});
}

TEST_CASE("A label of another office says nothing of the package whose id it carries") {
  PackageFacts f = facts_that_clear();
  f.authentic = false;
  f.package->recalled = true;
  f.load->state = LoadState::Recalled;
  REQUIRE(judge_package(f).reasons() == std::vector<Reason>{Reason::LabelNotAuthentic});
}

TEST_CASE("A package that expired in a recalled load carries both reasons") {
  PackageFacts f = facts_that_clear();
  f.today = walk_today().plus_days(1);
  f.load->state = LoadState::Recalled;
  REQUIRE(judge_package(f).reasons() == std::vector<Reason>{Reason::LoadRecalled, Reason::PastUseBy});
}

TEST_CASE("A package whose load was run on a day that has not come yet is not what its label says") {
  for (const PackageState state : {PackageState::Loaded, PackageState::Labelled}) {
    for (const int days : {0, 1, 366}) {
      PackageFacts f = facts_that_clear();
      f.package->state = state;
      f.package->process_date = walk_today().plus_days(days);
      f.package->use_by = walk_today().plus_days(days + 180);
      f.load->process_date = f.package->process_date;
      CAPTURE(days);
      REQUIRE(judge_package(f).has(Reason::LabelRecordMismatch) ==
              (days > 0 && state == PackageState::Loaded));
      REQUIRE((judge_package(f).outcome() == Outcome::Clear) == (days == 0 && state == PackageState::Loaded));
    }
  }
}

TEST_CASE("Past the label's day or past the profile's, whichever comes first, a package is out of date") {
  const CivilDate last = *CivilDate::from(2028, 12, 31);
  for (int later : {-1, 0, 1}) {
    PackageFacts f = facts_that_clear();
    f.package->use_by = last;
    f.package->last_day_by_profile = last.plus_days(200);
    f.today = last.plus_days(later);
    CAPTURE(f.today->iso());
    REQUIRE(judge_package(f).has(Reason::PastUseBy) == (later > 0));
    std::swap(f.package->use_by, f.package->last_day_by_profile);
    REQUIRE(judge_package(f).has(Reason::PastUseBy) == (later > 0));
  }
}

}  // namespace loadlight::core
