#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

using core::LoadName;
using core::LoadPurpose;
using core::LoadState;
using core::Outcome;
using core::Reason;

class OfficeThatTests final : public OfficeAtWork {
 public:
  explicit OfficeThatTests(std::string profile = "us-cdc-2003")
      : OfficeAtWork(std::move(profile), 180, DailyTests::AsTheProfileAsks) {}

  // The next load of S1, run as a test.
  LoadName run(LoadPurpose purpose) {
    const auto load =
        must(app::open_load(ports(), {"CD", "S1", "steam-134", purpose, std::nullopt, std::nullopt})).name;
    must(app::start_load(ports(), {"CD", load}));
    finish(load);
    return load;
  }
  core::Result<app::IndicatorReply> sheet(const LoadName& load, bool passed, int type = 2) {
    app::IndicatorRequest request;
    request.operator_code = "CD";
    request.load = load;
    request.place = core::IndicatorPlace::ProcessChallenge;
    request.type = type;
    request.lot = "BD1";
    request.expires = *core::CivilDate::from(2030, 1, 1);
    request.passed = passed;
    return app::record_indicator(ports(), request);
  }
  LoadState air_removal_test(bool passed) {
    const LoadName load = run(LoadPurpose::BowieDick);
    must(sheet(load, passed));
    return release(load).load.state;
  }
  LoadState leak_test(bool passed) {
    const LoadName load = run(LoadPurpose::Leak);
    must(app::record_leak(ports(), {"CD", load, {passed ? 0.1 : 0.4, passed}, ""}));
    return release(load).load.state;
  }
  LoadName next() {
    return {"S1", must(must(store.begin(port::Access::Read))->loads().highest_number("S1")) + 1};
  }
  // A load of one package with everything else in order.
  app::LoadReply process() {
    const LoadName load = next();
    start(load, print(load));
    finish(load);
    give_evidence(load);
    return release(load);
  }
  std::string start_code() {
    const LoadName load = next();
    const auto packages = print(load);
    must(app::open_load(ports(), {"CD", "S1", "dynamic-132-wrapped", LoadPurpose::Process, load.number, {}}));
    must(app::add_to_load(ports(), {"CD", load, {packages[0].id.text()}, {}}));
    return code_of(app::start_load(ports(), {"CD", load}));
  }
};

}  // namespace

// CDC 2008 as quoted: each day used, before the first load, dynamic air removal only.
TEST_CASE("Without a passed air removal test of the day a dynamic sterilizer's load holds", "[R27]") {
  OfficeThatTests office;
  const auto reply = office.process();
  REQUIRE(reply.load.state == LoadState::Finished);
  REQUIRE(reply.verdict.reasons() == std::vector{Reason::DailyTestMissing});
  REQUIRE(office.air_removal_test(true) == LoadState::Released);
  // A test that was run after it says nothing of it.
  REQUIRE(office.release(reply.load.name).verdict.reasons() == std::vector{Reason::DailyTestMissing});
  REQUIRE(office.process().load.state == LoadState::Released);
}

TEST_CASE("A test of yesterday does not speak for today", "[R27]") {
  OfficeThatTests office;
  REQUIRE(office.air_removal_test(true) == LoadState::Released);
  office.clock.turn_days(1);
  REQUIRE(office.process().verdict.has(Reason::DailyTestMissing));
}

TEST_CASE("The start of a load says that the day's test is missing, and does not refuse", "[R27]") {
  OfficeThatTests office;
  const LoadName load = office.next();
  const auto packages = office.print(load);
  must(app::open_load(office.ports(), {"CD", "S1", "steam-134", LoadPurpose::Process, 1, {}}));
  must(app::add_to_load(office.ports(), {"CD", load, {packages[0].id.text()}, {}}));
  REQUIRE(must(app::start_load(office.ports(), {"CD", load})).daily_test == core::DailyTest::Missing);
}

TEST_CASE("After a failed air removal test no load with packages starts until one has passed", "[R27]") {
  OfficeThatTests office;
  REQUIRE(office.air_removal_test(false) == LoadState::Failed);
  REQUIRE(office.start_code() == "sterilizer-test-failed");
  office.clock.turn_days(1);
  REQUIRE(office.start_code() == "sterilizer-test-failed");
  REQUIRE(office.air_removal_test(true) == LoadState::Released);
  REQUIRE(office.start_code() == "ok");
}

TEST_CASE("A failed leak test blocks loads like a failed air removal test", "[R27]") {
  OfficeThatTests office;
  REQUIRE(office.air_removal_test(true) == LoadState::Released);
  REQUIRE(office.leak_test(false) == LoadState::Failed);
  REQUIRE(office.start_code() == "sterilizer-test-failed");
  REQUIRE(office.leak_test(true) == LoadState::Released);
  REQUIRE(office.start_code() == "ok");
}

TEST_CASE("Where the profile asks a leak test every day, its absence holds", "[R27]") {
  OfficeThatTests office;
  office.set("leak-test", "daily");
  REQUIRE(office.air_removal_test(true) == LoadState::Released);
  REQUIRE(office.process().verdict.reasons() == std::vector{Reason::DailyTestMissing});
  REQUIRE(office.leak_test(true) == LoadState::Released);
  REQUIRE(office.process().load.state == LoadState::Released);
}

TEST_CASE("A gravity sterilizer needs no air removal test", "[R27]") {
  OfficeThatTests office;
  const LoadName load{"S2", 1};
  must(app::open_load(office.ports(), {"CD", "S2", "steam-121", LoadPurpose::Process, 1, {}}));
  must(app::add_to_load(office.ports(), {"CD", load, {}, {{"EXAM", 3}}}));
  REQUIRE(must(app::start_load(office.ports(), {"CD", load})).daily_test == core::DailyTest::NotAsked);
}

// ISO 11140-1:2014 as reported: type 2 is the sheet of the daily test.
TEST_CASE("An air removal test that was not read stays undecided, and only its own sheet is read",
          "[R27][R22]") {
  OfficeThatTests office;
  const LoadName load = office.run(LoadPurpose::BowieDick);
  REQUIRE(office.release(load).verdict.reasons() == std::vector{Reason::DailyTestMissing});
  REQUIRE(code_of(office.sheet(load, true, 5)) == "indicator-unfit");
  must(office.sheet(load, true));
  REQUIRE(office.release(load).load.state == LoadState::Released);
}

TEST_CASE("Test loads take no packages, neither printed for them nor put in", "[R28]") {
  OfficeThatTests office;
  const auto package = office.print({"S1", 1}).front();
  const auto load =
      must(app::open_load(office.ports(), {"CD", "S1", "steam-134", LoadPurpose::BowieDick, 2, {}})).name;
  REQUIRE(code_of(app::print_labels(office.ports(), office.shop(), office.print_request(load))) ==
          "load-takes-no-packages");
  REQUIRE(code_of(app::add_to_load(office.ports(), {"CD", load, {package.id.text()}, {}})) ==
          "load-takes-no-packages");
  must(app::start_load(office.ports(), {"CD", load}));
  REQUIRE(office.load(load).process_date == office.zone.local_date(office.clock.now()));
}

TEST_CASE("A leak test's result is given to a leak test alone, and changed only with a reason") {
  OfficeThatTests office;
  const LoadName other = office.run(LoadPurpose::BowieDick);
  REQUIRE(code_of(app::record_leak(office.ports(), {"CD", other, {0.1, true}, ""})) == "load-wrong-state");
  const LoadName load = office.run(LoadPurpose::Leak);
  must(app::record_leak(office.ports(), {"CD", load, {0.1, true}, ""}));
  REQUIRE(code_of(app::record_leak(office.ports(), {"CD", load, {0.3, false}, ""})) == "result-differs");
  must(app::record_leak(office.ports(), {"CD", load, {0.3, false}, "misread"}));
  REQUIRE(office.release(load).load.state == LoadState::Failed);
}

// 21 CFR 11.10(f): steps in their order.
TEST_CASE("Nothing is released before it was unloaded and read, nor used before it was released", "[R60]") {
  OfficeAtWork office;
  const LoadName load{"S1", 1};
  const auto packages = office.print(load);
  REQUIRE(must(office.open(packages[0])).outcome == app::OpenOutcome::Refused);
  office.start(load, packages);
  REQUIRE(office.release(load).verdict.has(Reason::LoadRunning));
  REQUIRE(must(office.open(packages[0])).outcome == app::OpenOutcome::Refused);
  office.finish(load);
  REQUIRE(office.release(load).verdict.has(Reason::ExternalIndicatorUnread));
  office.give_evidence(load);
  REQUIRE(must(office.open(packages[0])).outcome == app::OpenOutcome::Refused);
  REQUIRE(office.release(load).load.state == LoadState::Released);
  REQUIRE(must(office.open(packages[0])).outcome == app::OpenOutcome::Opened);
}

TEST_CASE("Whichever call of the store fails, a leak test is recorded whole or not at all") {
  const auto run = [](OfficeAtWork& office) {
    const auto load =
        must(app::open_load(office.ports(), {"CD", "S1", "steam-134", LoadPurpose::Leak, 1, {}})).name;
    must(app::start_load(office.ports(), {"CD", load}));
    office.finish(load);
    return load;
  };
  require_all_or_nothing(run, [](OfficeAtWork& office, const LoadName& load) {
    return app::record_leak(office.ports(), {"CD", load, {0.1, true}, ""}).ok();
  });
}

}  // namespace loadlight::tests
