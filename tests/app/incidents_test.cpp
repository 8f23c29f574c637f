#include "app/incident_scene.h"

namespace loadlight::tests {
namespace {

using core::BiologicalTest;
using core::Disposition;
using core::LoadName;
using core::LoadState;
using core::Outcome;
using core::PackageState;
using core::Reason;
using core::RecallReach;

std::vector<std::string> keys_of(const core::Failure& failure) {
  std::vector<std::string> keys;
  for (const auto& item : failure.items) keys.push_back(item.key);
  return keys;
}

std::vector<Reason> reasons(OfficeAtWork& office, const core::Package& package) {
  return office.check(package.payload).verdict.reasons();
}

// Loads S1-1 to S1-3, of which the second grew.
std::vector<core::Package> in_doubt(OfficeAtWork& office) {
  const auto packages = released_in(office, {1, 2, 3});
  must(grow(office, {"S1", 2}));
  return packages;
}

void do_dental_2003_but_for_the_retest(OfficeAtWork& office) {
  REQUIRE(step(office, "recall-implants", "none-aboard") == "ok");
  REQUIRE(step(office, "review-records", "fine") == "ok");
  REQUIRE(step(office, "review-procedures", "handling-error") == "ok");
}

void clear_by_dental_2003(OfficeAtWork& office) {
  do_dental_2003_but_for_the_retest(office);
  retest(office, BiologicalTest::NoGrowth);
  REQUIRE(step(office, "judge-positive", "handling-error") == "ok");
}

}  // namespace

// MMWR 52(RR-17) 2003, positive spore test: removed from service, implants recalled, the others held.
TEST_CASE("A positive takes the sterilizer out of service, holds the range and recalls implants at once",
          "[R44][R48]") {
  OfficeAtWork office;
  const auto plain = released_in(office, {1, 2});
  const auto implant_packages = office.print({"S1", 3}, 1, "IMPL");
  office.start({"S1", 3}, implant_packages);
  office.finish({"S1", 3});
  office.give_evidence({"S1", 3});
  must(app::release_load(office.ports(), {"CD", {"S1", 3}, "no other set", "AB"}));
  const auto incident = *must(grow(office, {"S1", 2})).incident;
  REQUIRE_FALSE(is_in_service(office, "S1"));
  REQUIRE(is_in_service(office, "S2"));
  REQUIRE(incident.sterilizer_held);
  REQUIRE(incident.recall == RecallReach::Implants);
  REQUIRE(incident.profile == "us-cdc-2003 4, own: air-removal-test");
  for (const auto& package : plain) REQUIRE(reasons(office, package) == std::vector{Reason::IncidentOpen});
  REQUIRE(reasons(office, implant_packages[0]) == std::vector{Reason::PackageRecalled, Reason::IncidentOpen});
  REQUIRE(view(office).suspects.size() == 3);
}

TEST_CASE("The suspect range follows the order of running and not the load numbers", "[R46]") {
  OfficeAtWork office;
  office.print({"S1", 1});
  office.print({"S1", 2});
  const auto later_number = office.released_package({"S1", 2});
  const auto earlier_number = office.released_package({"S1", 1});
  must(stay_clear(office, {"S1", 2}));
  const auto incident = *must(grow(office, {"S1", 1})).incident;
  REQUIRE(incident.first_run == 2);
  REQUIRE(incident.last_run == 2);
  REQUIRE(office.check(later_number.payload).verdict.outcome() == Outcome::Clear);
  REQUIRE(reasons(office, earlier_number) == std::vector{Reason::IncidentOpen});
}

TEST_CASE("The range ends before the next negative that was run later, and begins after the last one before",
          "[R46]") {
  OfficeAtWork office;
  const auto packages = released_in(office, {1, 2, 3, 4, 5});
  must(stay_clear(office, {"S1", 5}));
  must(stay_clear(office, {"S1", 1}));
  const auto incident = *must(grow(office, {"S1", 3})).incident;
  REQUIRE(incident.first_run == 2);
  REQUIRE(incident.last_run == 4);
  REQUIRE(office.check(packages[0].payload).verdict.outcome() == Outcome::Clear);
  REQUIRE(office.check(packages[4].payload).verdict.outcome() == Outcome::Clear);
}

TEST_CASE("With no earlier negative the range goes back to the first load on record", "[R47]") {
  OfficeAtWork office;
  released_in(office, {1, 2, 3});
  const auto incident = *must(grow(office, {"S1", 3})).incident;
  REQUIRE(incident.first_run == 1);
  REQUIRE(view(office).loads.size() == 3);
}

TEST_CASE("Where each program has its own chain, loads of another program are not in doubt", "[R46]") {
  OfficeAtWork office;
  office.set("biological-chains", "per-program");
  const LoadName other{"S1", 1};
  const auto outside = office.print(other);
  must(app::open_load(office.ports(), {"CD", "S1", "steam-134", core::LoadPurpose::Process, 1, {}}));
  must(app::add_to_load(office.ports(), {"CD", other, {outside[0].id.text()}, {}}));
  must(app::start_load(office.ports(), {"CD", other}));
  office.finish(other);
  released_in(office, {2, 3});
  const auto incident = *must(grow(office, {"S1", 3})).incident;
  REQUIRE(incident.program == "dynamic-132-wrapped");
  REQUIRE(view(office).loads.size() == 2);
  REQUIRE_FALSE(office.check(outside[0].payload).verdict.has(Reason::IncidentOpen));
}

// CDC 2003 and 2008: results come days after their runs.
TEST_CASE(
    "A positive that comes four days and thirty loads late holds everything since and lists what was "
    "cleared and used",
    "[R51]") {
  OfficeAtWork office;
  std::vector<core::Package> packages;
  for (int number = 1; number <= 32; ++number) {
    packages.push_back(office.released_package({"S1", number}));
    if (number % 8 == 0) office.clock.turn_days(1);
  }
  must(stay_clear(office, {"S1", 1}));
  REQUIRE(office.check(packages[0].payload).verdict.outcome() == Outcome::Clear);
  REQUIRE(office.check(packages[9].payload).verdict.outcome() == Outcome::Clear);
  must(office.open(packages[20]));
  const auto incident = *must(grow(office, {"S1", 2})).incident;
  REQUIRE(incident.first_run == 2);
  REQUIRE(incident.last_run == 32);
  const auto shown = view(office);
  REQUIRE(shown.suspects.size() == 31);
  const auto& opened = shown.suspects[19];
  REQUIRE(opened.disposition == Disposition::Opened);
  REQUIRE(opened.package.visit == "V-1");
  std::vector<core::PackageId> cleared;
  for (const auto& clear : shown.earlier_clears) cleared.push_back(clear.package);
  REQUIRE(std::find(cleared.begin(), cleared.end(), packages[9].id) != cleared.end());
  REQUIRE(std::find(cleared.begin(), cleared.end(), packages[0].id) == cleared.end());
}

// MMWR 52(RR-17) 2003: one negative repeat with everything in order, and back into service.
TEST_CASE("The procedure of 2003 is carried to a closed incident by one negative retest", "[R45][R49][R50]") {
  OfficeAtWork office;
  const auto packages = in_doubt(office);
  REQUIRE(step(office, "judge-positive", "handling-error") == "step-not-due");
  do_dental_2003_but_for_the_retest(office);
  REQUIRE(return_s1(office) == "return-not-allowed");
  retest(office, BiologicalTest::NoGrowth);
  REQUIRE(return_s1(office) == "return-not-allowed");
  REQUIRE(step(office, "judge-positive", "handling-error") == "ok");
  REQUIRE(close(office) == "incident-unfinished");
  REQUIRE(return_s1(office) == "ok");
  REQUIRE(is_in_service(office, "S1"));
  REQUIRE(close(office) == "ok");
  for (const auto& package : packages) {
    REQUIRE(office.check(package.payload).verdict.outcome() == Outcome::Clear);
  }
  REQUIRE(step(office, "review-records", "fine") == "incident-ended");
}

// CDC Guideline 2008, Table 12: three consecutive negatives.
TEST_CASE("The procedure of 2008 asks three negatives in a row", "[R45][R49]") {
  OfficeAtWork office{"us-cdc-2008"};
  in_doubt(office);
  for (const char* code : {"check-settings", "check-utilities", "check-indicator"}) {
    REQUIRE(step(office, code, "fine") == "ok");
  }
  REQUIRE(step(office, "notify", "done") == "ok");
  REQUIRE(step(office, "recall-implants", "none-aboard") == "ok");
  for (int negatives = 0; negatives < 3; ++negatives) {
    REQUIRE(return_s1(office) == "return-not-allowed");
    retest(office, BiologicalTest::NoGrowth);
  }
  REQUIRE(return_s1(office) == "ok");
  REQUIRE(close(office) == "ok");
}

// MMWR 52(RR-17) 2003, the conservative option; three empty-chamber negatives after the repair.
TEST_CASE("The conservative procedure recalls everything and closes once every package is accounted for",
          "[R45][R49][R50]") {
  OfficeAtWork office{"office"};
  const auto packages = released_in(office, {1, 2, 3});
  must(office.open(packages[0]));
  must(grow(office, {"S1", 2}));
  for (int number : {1, 2, 3}) REQUIRE(office.load({"S1", number}).state == LoadState::Recalled);
  retest(office, BiologicalTest::NoGrowth);  // before the repair: proves nothing of it
  REQUIRE(step(office, "repair", "repaired") == "step-not-due");
  REQUIRE(step(office, "recall-implants", "none-aboard") == "ok");
  REQUIRE(step(office, "recall-everything", "recalled") == "ok");
  REQUIRE(step(office, "review-records", "fine") == "ok");
  REQUIRE(step(office, "review-procedures", "fine") == "ok");
  REQUIRE(step(office, "inspect", "defect") == "ok");
  REQUIRE(step(office, "repair", "repaired") == "ok");
  office.clock.turn(std::chrono::minutes{1});
  for (int negatives = 0; negatives < 3; ++negatives) {
    REQUIRE(return_s1(office) == "return-not-allowed");
    retest(office, BiologicalTest::NoGrowth);
  }
  REQUIRE(return_s1(office) == "ok");
  REQUIRE(close(office) == "incident-unfinished");
  REQUIRE(account(office, packages[1], Disposition::NotFound) == "reason-missing");
  REQUIRE(account(office, packages[1], Disposition::NotFound, "not on any shelf") == "ok");
  REQUIRE(close(office) == "incident-unfinished");
  REQUIRE(account(office, packages[2], Disposition::Opened) == "package-wrong-state");
  REQUIRE(account(office, packages[2], Disposition::Reprocessed) == "ok");
  REQUIRE(office.now(packages[2]).state == PackageState::Withdrawn);
  REQUIRE(close(office) == "ok");
  REQUIRE(must(app::list_incidents(office.ports())).front().state == core::IncidentState::Closed);
  REQUIRE(office.check(packages[1].payload).verdict.has(Reason::LoadRecalled));
}

TEST_CASE("Growth between negatives begins the row anew", "[R49]") {
  OfficeAtWork office{"us-cdc-2008"};
  in_doubt(office);
  retest(office, BiologicalTest::NoGrowth);
  retest(office, BiologicalTest::NoGrowth);
  retest(office, BiologicalTest::Growth);
  REQUIRE(step(office, "inspect", "fine") == "ok");
  REQUIRE(step(office, "repair", "repaired") == "ok");
  office.clock.turn(std::chrono::minutes{1});
  retest(office, BiologicalTest::NoGrowth);
  const auto status = view(office).steps;
  const auto row = std::find_if(status.begin(), status.end(),
                                [](const auto& each) { return each.code == "retest-three"; });
  REQUIRE(row->missing == 2);
}

// MMWR 52(RR-17) 2003: after a second positive, every suspect load is recalled.
TEST_CASE("A positive retest recalls everything and opens no incident of its own", "[R45][R48]") {
  OfficeAtWork office;
  const auto packages = in_doubt(office);
  const LoadName again = retest(office, BiologicalTest::Growth);
  const auto incidents = must(app::list_incidents(office.ports()));
  REQUIRE(incidents.size() == 1);
  REQUIRE(incidents[0].recall == RecallReach::Everything);
  REQUIRE(office.load(again).retest_of == 1);
  for (const auto& package : packages)
    REQUIRE(office.check(package.payload).verdict.has(Reason::LoadRecalled));
  REQUIRE(return_s1(office) == "return-not-allowed");
}

TEST_CASE("While it is out of service a sterilizer runs retests and no packages") {
  OfficeAtWork office;
  in_doubt(office);
  const auto open = [&](core::LoadPurpose purpose, std::optional<int> incident) {
    return code_of(
        app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", purpose, {}, incident}));
  };
  REQUIRE(open(core::LoadPurpose::Process, {}) == "sterilizer-out-of-service");
  REQUIRE(open(core::LoadPurpose::Retest, 2) == "incident-unknown");
  REQUIRE(open(core::LoadPurpose::Retest, 1) == "ok");
  REQUIRE(open(core::LoadPurpose::BowieDick, {}) == "ok");
}

TEST_CASE("Refused returns and ends name everything that stands in the way", "[R49][R50]") {
  OfficeAtWork office;
  in_doubt(office);
  const auto back = app::return_to_service(office.ports(), {"AB", "S1", "please"});
  REQUIRE(keys_of(back.failure()).size() > 2);
  for (const auto& key : keys_of(back.failure())) REQUIRE(english().has(key));
  const auto end = app::close_incident(office.ports(), {"AB", 1, ""});
  const auto keys = keys_of(end.failure());
  REQUIRE(std::find(keys.begin(), keys.end(), "incident.obstacle.sterilizer-not-returned") != keys.end());
  REQUIRE(code_of(app::return_to_service(office.ports(), {"CD", "S1", "please"})) == "lead-required");
  REQUIRE(code_of(app::close_incident(office.ports(), {"CD", 1, ""})) == "lead-required");
}

TEST_CASE("A narrower range is a lead's decision with a reason and keeps the load that raised it", "[R46]") {
  OfficeAtWork office;
  const auto packages = in_doubt(office);
  const auto narrow = [&](const char* who, int first, int last, const char* why) {
    return code_of(app::narrow_range(office.ports(), {who, 1, {"S1", first}, {"S1", last}, why}));
  };
  REQUIRE(narrow("CD", 2, 3, "strips show it") == "lead-required");
  REQUIRE(narrow("AB", 2, 3, "") == "reason-missing");
  REQUIRE(narrow("AB", 3, 3, "strips show it") == "bad-value");
  REQUIRE(narrow("AB", 2, 1, "strips show it") == "bad-value");
  REQUIRE(narrow("AB", 2, 3, "strips show it") == "ok");
  REQUIRE(narrow("AB", 1, 3, "wider again") == "bad-value");
  REQUIRE(office.check(packages[0].payload).verdict.outcome() == Outcome::Clear);
  REQUIRE(reasons(office, packages[1]) == std::vector{Reason::IncidentOpen});
  REQUIRE(view(office).incident.narrowed_why == "strips show it");
  clear_by_dental_2003(office);
  REQUIRE(return_s1(office) == "ok");
  REQUIRE(close(office) == "incident-unfinished");
  REQUIRE(step(office, "confirm-range", "stands") == "ok");
  REQUIRE(close(office) == "ok");
}

TEST_CASE("A package outside the range is not accounted for, nor a step that the procedure lacks") {
  OfficeAtWork office;
  const auto packages = released_in(office, {1, 2});
  must(stay_clear(office, {"S1", 1}));
  must(grow(office, {"S1", 2}));
  REQUIRE(account(office, packages[0], Disposition::Withdrawn) == "not-suspect");
  REQUIRE(account(office, packages[1], Disposition::Withdrawn) == "ok");
  REQUIRE(step(office, "notify", "done") == "bad-value");
  REQUIRE(step(office, "review-records", "perhaps") == "bad-value");
  REQUIRE(step(office, "retest", "done") == "step-not-due");
  REQUIRE(step(office, "review-records", "fine", 7) == "incident-unknown");
  REQUIRE(code_of(app::do_step(office.ports(), {"CD", 1, "judge-positive", "unknown", ""})) ==
          "lead-required");
}

TEST_CASE("An internal indicator that did not change doubts its load alone and leaves the sterilizer be",
          "[R22]") {
  OfficeAtWork office;
  const auto packages = office.print({"S1", 1}, 2);
  office.start({"S1", 1}, packages);
  office.finish({"S1", 1});
  office.give_evidence({"S1", 1});
  office.release({"S1", 1});
  const auto other = office.released_package({"S1", 2});
  must(office.open(packages[0]));
  const auto reply = must(app::record_internal_indicator(
      office.ports(), {"CD", packages[0].payload, core::IndicatorLook::Unchanged}));
  REQUIRE(reply.incident->first_run == 1);
  REQUIRE(reply.incident->last_run == 1);
  REQUIRE(is_in_service(office, "S1"));
  REQUIRE(reasons(office, packages[1]) == std::vector{Reason::IncidentOpen});
  REQUIRE(office.check(other.payload).verdict.outcome() == Outcome::Clear);
  REQUIRE(step(office, "check-loading", "fine") == "ok");
  REQUIRE(step(office, "check-other-indicators", "changed") == "ok");
  REQUIRE(step(office, "decide-load", "lift-hold") == "ok");
  REQUIRE(close(office) == "ok");
  REQUIRE(office.check(packages[1].payload).verdict.outcome() == Outcome::Clear);
}

TEST_CASE("Whichever call of the store fails, each move of an incident is made whole or not at all") {
  require_all_or_nothing(in_doubt, [](OfficeAtWork& office, const auto&) {
    return app::do_step(office.ports(), {"AB", 1, "review-records", "defect", ""}).ok();
  });
  require_all_or_nothing(in_doubt, [](OfficeAtWork& office, const auto& packages) {
    return account(office, packages[0], Disposition::Withdrawn) == "ok";
  });
  require_all_or_nothing(in_doubt, [](OfficeAtWork& office, const auto&) {
    return app::narrow_range(office.ports(), {"AB", 1, {"S1", 2}, {"S1", 2}, "strips"}).ok();
  });
  const auto cleared = [](OfficeAtWork& office) {
    in_doubt(office);
    clear_by_dental_2003(office);
    return 0;
  };
  require_all_or_nothing(cleared, [](OfficeAtWork& office, int) { return return_s1(office) == "ok"; });
  const auto returned = [cleared](OfficeAtWork& office) {
    cleared(office);
    return return_s1(office);
  };
  require_all_or_nothing(returned, [](OfficeAtWork& office, const auto&) { return close(office) == "ok"; });
}

}  // namespace loadlight::tests
