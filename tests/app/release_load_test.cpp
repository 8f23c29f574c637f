#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

using core::BiologicalControl;
using core::BiologicalTest;
using core::IndicatorPlace;
using core::LoadName;
using core::LoadState;
using core::Outcome;
using core::PackageState;
using core::Reason;

const LoadName kLoad{"S1", 1};

app::IndicatorRequest indicator(IndicatorPlace place, bool passed) {
  app::IndicatorRequest request;
  request.operator_code = "CD";
  request.load = kLoad;
  request.place = place;
  request.lot = "CI7";
  request.expires = *core::CivilDate::from(2030, 1, 1);
  request.passed = passed;
  return request;
}

// A finished load of this many packages.
std::vector<core::Package> finished(OfficeAtWork& office, int count, const char* contents = "EXAM") {
  const auto packages = office.print(kLoad, count, contents);
  office.start(kLoad, packages);
  office.finish(kLoad);
  return packages;
}

core::Result<app::LoadReply> emergency(OfficeAtWork& office, const char* second) {
  return app::release_load(office.ports(), {"CD", kLoad, "no other set, patient waiting", second});
}

}  // namespace

TEST_CASE("A load without evidence stays as it is and says everything that is missing", "[R21]") {
  OfficeAtWork office;
  finished(office, 1);
  const auto reply = office.release(kLoad);
  REQUIRE(reply.load.state == LoadState::Finished);
  REQUIRE(reply.verdict.reasons() ==
          std::vector<Reason>{Reason::MechanicalEvidenceMissing, Reason::ExternalIndicatorUnread});
  REQUIRE(office.load(kLoad).state == LoadState::Finished);
}

TEST_CASE("A wrapped package needs its drying though its label seems younger than its load", "[R31]") {
  OfficeAtWork office;
  office.clock.turn(std::chrono::minutes{10});  // it stood ahead while the labels were printed
  const auto packages = office.print(kLoad);
  office.clock.turn(std::chrono::minutes{-10});
  office.start(kLoad, packages);
  office.clock.turn(std::chrono::minutes{60});
  office.finish(kLoad);
  office.give_evidence(kLoad);
  core::Readings wet = *office.load(kLoad).readings;
  wet.drying_minutes = 1;
  must(app::record_readings(office.ports(), {"CD", kLoad, wet, "read again"}));
  REQUIRE(office.release(kLoad).verdict.reasons() == std::vector<Reason>{Reason::DryingShort});
}

TEST_CASE("A load that is not finished is not released") {
  OfficeAtWork office;
  REQUIRE(code_of(app::release_load(office.ports(), {"CD", kLoad, "", ""})) == "load-unknown");
  const auto packages = office.print(kLoad);
  REQUIRE(code_of(app::release_load(office.ports(), {"CD", kLoad, "", ""})) == "load-wrong-state");
  office.start(kLoad, packages);
  REQUIRE(office.release(kLoad).verdict.has(Reason::LoadRunning));
  REQUIRE(office.load(kLoad).state == LoadState::Running);
}

TEST_CASE("Whole evidence is shown as not yet released until a person decides, once") {
  OfficeAtWork office;
  finished(office, 1);
  office.give_evidence(kLoad);
  REQUIRE(must(app::show_load(office.ports(), kLoad)).verdict.reasons() ==
          std::vector<Reason>{Reason::LoadNotReleased});
  const auto reply = office.release(kLoad);
  REQUIRE(reply.load.state == LoadState::Released);
  REQUIRE(reply.load.decided_by == "CD");
  REQUIRE(must(app::show_load(office.ports(), kLoad)).verdict.outcome() == Outcome::Clear);
  REQUIRE(code_of(app::release_load(office.ports(), {"CD", kLoad, "", ""})) == "load-wrong-state");
}

// MMWR 52(RR-17) 2003 VI.F.5: no use of packages whose mechanical or chemical results are inadequate.
TEST_CASE("A short exposure or a failed external indicator fails the load for good", "[R21]") {
  for (bool short_exposure : {true, false}) {
    OfficeAtWork office;
    const auto packages = finished(office, 1);
    office.give_evidence(kLoad);
    if (short_exposure) {
      must(app::record_readings(office.ports(), {"CD", kLoad, {132.5, 134, 3.9, 304, 20}, "read again"}));
    } else {
      auto again = indicator(IndicatorPlace::External, false);
      REQUIRE(code_of(app::record_indicator(office.ports(), again)) == "result-differs");
      again.why = "looked again";
      must(app::record_indicator(office.ports(), again));
    }
    const auto reply = office.release(kLoad);
    REQUIRE(reply.load.state == LoadState::Failed);
    REQUIRE(reply.verdict.outcome() == Outcome::DoNotUse);
    REQUIRE(office.check(packages.front().payload).verdict.has(Reason::LoadFailed));
    REQUIRE(code_of(app::release_load(office.ports(), {"CD", kLoad, "", ""})) == "load-wrong-state");
  }
}

TEST_CASE("One wet package is withdrawn alone and two hold the load", "[R31]") {
  OfficeAtWork office;
  const auto packages = finished(office, 3);
  office.give_evidence(kLoad);
  const auto withdraw_wet = [&](const core::Package& package) {
    must(app::withdraw_package(office.ports(), {"CD", package.id.text(), core::WithdrawReason::Wet}));
  };
  withdraw_wet(packages[0]);
  REQUIRE(must(app::show_load(office.ports(), kLoad)).verdict.reasons() ==
          std::vector<Reason>{Reason::LoadNotReleased});
  withdraw_wet(packages[1]);
  REQUIRE(office.release(kLoad).verdict.reasons() == std::vector<Reason>{Reason::WetPackages});
  REQUIRE(office.load(kLoad).state == LoadState::Finished);
}

TEST_CASE("An indicator that failed on one package withdraws that package and releases the others") {
  OfficeAtWork office;
  const auto packages = finished(office, 2);
  office.give_evidence(kLoad);
  auto exception = indicator(IndicatorPlace::External, false);
  exception.package = packages[0].id.text();
  const auto reply = must(app::record_indicator(office.ports(), exception));
  REQUIRE(reply.withdrawn->id == packages[0].id);
  REQUIRE(office.now(packages[0]).withdrawn_because == core::WithdrawReason::Indicator);
  REQUIRE(office.release(kLoad).load.state == LoadState::Released);
  REQUIRE(office.check(packages[1].payload).verdict.outcome() == Outcome::Clear);
}

TEST_CASE("An exception names a package of the same load") {
  OfficeAtWork office;
  finished(office, 1);
  auto exception = indicator(IndicatorPlace::External, false);
  exception.package = office.print({"S1", 2}).front().id.text();
  REQUIRE(code_of(app::record_indicator(office.ports(), exception)) == "package-wrong-state");
}

TEST_CASE("An indicator is read between the end of its load and the decision") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad);
  office.start(kLoad, packages);
  const auto request = indicator(IndicatorPlace::External, true);
  REQUIRE(code_of(app::record_indicator(office.ports(), request)) == "load-wrong-state");
  office.finish(kLoad);
  auto odd = request;
  for (int type : {0, 7}) {
    odd.type = type;
    REQUIRE(code_of(app::record_indicator(office.ports(), odd)) == "bad-value");
  }
  office.give_evidence(kLoad);
  office.release(kLoad);
  REQUIRE(code_of(app::record_indicator(office.ports(), request)) == "load-wrong-state");
}

// MMWR 52(RR-17) 2003 VI.F.7: verify the biological result before an implant is used.
TEST_CASE("An implant load waits in quarantine for its biological result", "[R23][R25]") {
  OfficeAtWork office;
  const auto packages = finished(office, 1, "IMPL");
  office.give_evidence(kLoad);
  REQUIRE(office.release(kLoad).load.state == LoadState::Quarantined);
  REQUIRE(office.check(packages.front().payload).verdict.reasons() ==
          std::vector<Reason>{Reason::LoadQuarantined});
  REQUIRE(office.release(kLoad).load.state == LoadState::Quarantined);
  must(office.biological(kLoad, BiologicalTest::NoGrowth, BiologicalControl::NoGrowth));
  REQUIRE(office.release(kLoad).verdict.has(Reason::BiologicalInvalid));
  must(office.biological(kLoad, BiologicalTest::NoGrowth, BiologicalControl::Growth));
  REQUIRE(office.release(kLoad).load.state == LoadState::Released);
  REQUIRE(office.check(packages.front().payload).verdict.outcome() == Outcome::Clear);
}

TEST_CASE("An emergency takes a second person who is known, current and another", "[R23]") {
  OfficeAtWork office;
  const auto packages = finished(office, 1, "IMPL");
  office.give_evidence(kLoad);
  office.release(kLoad);
  REQUIRE(code_of(emergency(office, "")) == "reason-missing");
  REQUIRE(code_of(emergency(office, "ZZ")) == "operator-unknown");
  REQUIRE(code_of(emergency(office, "CD")) == "operator-not-current");
  REQUIRE(office.load(kLoad).state == LoadState::Quarantined);
  const auto reply = must(emergency(office, "AB"));
  REQUIRE(reply.load.state == LoadState::Released);
  REQUIRE(reply.load.emergency_second == "AB");
  const auto check = office.check(packages.front().payload);
  REQUIRE(check.verdict.outcome() == Outcome::Clear);
  REQUIRE(check.verdict.notes().front() == core::Note::ReleasedAsEmergency);
}

TEST_CASE("An emergency overrides nothing but an awaited biological result", "[R23]") {
  OfficeAtWork office;
  finished(office, 1, "IMPL");
  const auto reply = must(emergency(office, "AB"));
  REQUIRE(reply.load.state == LoadState::Finished);
  REQUIRE(reply.verdict.has(Reason::MechanicalEvidenceMissing));
}

TEST_CASE("Growth stops the sterilizer and holds every load since the last valid negative result",
          "[R44][R48]") {
  OfficeAtWork office;
  std::vector<core::Package> packages;
  for (int number = 1; number <= 4; ++number) packages.push_back(office.released_package({"S1", number}));
  must(office.biological({"S1", 1}, BiologicalTest::NoGrowth, BiologicalControl::Growth));
  must(office.biological({"S1", 2}, BiologicalTest::NoGrowth, BiologicalControl::NotReported));
  const auto reply = must(office.biological({"S1", 3}, BiologicalTest::Growth, BiologicalControl::Growth));
  REQUIRE(reply.incident->first_run == 2);
  REQUIRE(reply.incident->last_run == 4);
  REQUIRE(office.check(packages[0].payload).verdict.outcome() == Outcome::Clear);
  for (int suspect : {1, 2, 3}) {
    REQUIRE(office.check(packages[static_cast<std::size_t>(suspect)].payload).verdict.reasons() ==
            std::vector<Reason>{Reason::IncidentOpen});
  }
  REQUIRE(code_of(app::open_load(office.ports(), {"CD", "S1", "steam-134", {}, {}, {}})) ==
          "sterilizer-out-of-service");
  REQUIRE(code_of(app::print_labels(office.ports(), office.shop(), office.print_request({"S1", 5}))) ==
          "sterilizer-out-of-service");
}

TEST_CASE("A biological result is taken only after the end of its load") {
  OfficeAtWork office;
  office.start(kLoad, office.print(kLoad));
  REQUIRE(code_of(office.biological(kLoad, BiologicalTest::NoGrowth, BiologicalControl::Growth)) ==
          "load-wrong-state");
}

TEST_CASE("A release that is taken back stops its packages and names those already opened") {
  OfficeAtWork office;
  const auto packages = finished(office, 2);
  office.give_evidence(kLoad);
  office.release(kLoad);
  must(office.open(packages[0]));
  REQUIRE(code_of(app::revoke_release(office.ports(), {"CD", kLoad, ""})) == "reason-missing");
  const auto reply = must(app::revoke_release(office.ports(), {"CD", kLoad, "strip misread"}));
  REQUIRE(reply.opened_already.size() == 1);
  REQUIRE(reply.opened_already.front().id == packages[0].id);
  REQUIRE(office.check(packages[1].payload).verdict.reasons() == std::vector<Reason>{Reason::ReleaseRevoked});
  REQUIRE(code_of(app::revoke_release(office.ports(), {"CD", kLoad, "again"})) == "load-wrong-state");
  must(app::recall_load(office.ports(), {"AB", kLoad, "to be safe"}));
  REQUIRE(office.check(packages[1].payload).verdict.reasons() == std::vector<Reason>{Reason::LoadRecalled});
}

TEST_CASE("Whichever call of the store fails, evidence and decisions are taken whole or not at all") {
  const auto ready = [](OfficeAtWork& office) {
    const auto packages = finished(office, 1);
    office.give_evidence(kLoad);
    return packages.front();
  };
  const auto released = [](OfficeAtWork& office) { return office.released_package(); };
  require_all_or_nothing(ready, [](OfficeAtWork& office, const core::Package&) {
    const auto reply = app::release_load(office.ports(), {"CD", kLoad, "", ""});
    return reply && reply->load.state == LoadState::Released;
  });
  require_all_or_nothing(ready, [](OfficeAtWork& office, const core::Package& package) {
    auto exception = indicator(IndicatorPlace::External, false);
    exception.package = package.id.text();
    return app::record_indicator(office.ports(), exception).ok();
  });
  require_all_or_nothing(released, [](OfficeAtWork& office, const core::Package&) {
    return office.biological(kLoad, BiologicalTest::Growth, BiologicalControl::Growth).ok();
  });
  require_all_or_nothing(released, [](OfficeAtWork& office, const core::Package&) {
    return app::recall_load(office.ports(), {"AB", kLoad, "door seal"}).ok();
  });
}

}  // namespace loadlight::tests
