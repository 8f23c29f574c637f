#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

using core::LoadName;
using core::LoadPurpose;
using core::LoadState;
using core::PackageState;

const LoadName kLoad{"S1", 1};

std::string open_code(OfficeAtWork& office, app::OpenLoadRequest request) {
  return code_of(app::open_load(office.ports(), request));
}

core::Result<core::Load> add(OfficeAtWork& office, const LoadName& load, const core::Package& package) {
  return app::add_to_load(office.ports(), {"CD", load, {package.id.text()}, {}});
}

core::Result<core::Load> add_loose(OfficeAtWork& office, const LoadName& load, const char* contents,
                                   int count = 1) {
  return app::add_to_load(office.ports(), {"CD", load, {}, {{contents, count}}});
}

std::vector<std::string> keys_of(const core::Failure& failure) {
  std::vector<std::string> keys;
  for (const auto& item : failure.items) keys.push_back(item.key);
  return keys;
}

}  // namespace

TEST_CASE("Load numbers are one sequence a sterilizer, and labels reserve theirs", "[R20]") {
  OfficeAtWork office;
  REQUIRE(open_code(office, {"CD", "S1", "dynamic-132-wrapped", LoadPurpose::Process, 2, {}}) ==
          "load-number-out-of-sequence");
  office.print(kLoad);
  REQUIRE(office.load(kLoad).state == LoadState::Reserved);
  office.print({"S1", 2});
  const auto first = must(app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", {}, {}, {}}));
  REQUIRE(first.name == kLoad);
  const auto second = must(app::open_load(office.ports(), {"CD", "S1", "steam-134", {}, {}, {}}));
  REQUIRE(second.name == LoadName{"S1", 2});
  const auto third = must(app::open_load(office.ports(), {"CD", "S1", "steam-134", {}, {}, {}}));
  REQUIRE(third.name == LoadName{"S1", 3});
  REQUIRE(open_code(office, {"CD", "S1", "steam-134", LoadPurpose::Process, 1, {}}) == "load-wrong-state");
}

TEST_CASE("A load is opened only with a program that its sterilizer can run", "[R29]") {
  OfficeAtWork office;
  const auto code = [&](const char* sterilizer, const char* program) {
    return open_code(office, {"CD", sterilizer, program, LoadPurpose::Process, {}, {}});
  };
  REQUIRE(code("S1", "no-such") == "program-unknown");
  REQUIRE(code("S1", "gravity-132-wrapped") == "program-not-allowed");
  REQUIRE(code("S2", "dynamic-132-wrapped") == "program-not-allowed");
  REQUIRE(code("S2", "gravity-121-wrapped") == "program-not-allowed");
  REQUIRE(code("S3", "steam-121") == "code-unknown");
  REQUIRE(code("S2", "steam-121") == "ok");
}

TEST_CASE("A label that names another load or another day is met at the sterilizer") {
  OfficeAtWork office;
  const core::Package other_load = office.print(kLoad).front();
  auto request = office.print_request({"S1", 2});
  request.process_date = office.zone.local_date(office.clock.now()).plus_days(1);
  const core::Package other_day =
      must(app::print_labels(office.ports(), office.shop(), request)).packages.front();
  const core::Package right = office.print({"S1", 2}).front();
  const LoadName load{"S1", 2};
  must(app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", LoadPurpose::Process, 2, {}}));
  const auto refused = app::add_to_load(
      office.ports(), {"CD", load, {right.id.text(), other_load.id.text(), other_day.id.text()}, {}});
  REQUIRE(code_of(refused) == "labels-name-another");
  REQUIRE(keys_of(refused.failure()) ==
          std::vector<std::string>{"item.label-names-load", "item.label-names-date"});
  REQUIRE(office.now(right).state == PackageState::Labelled);
  REQUIRE(code_of(add(office, load, right)) == "ok");
}

TEST_CASE("A load that was filled yesterday does not start with yesterday's labels") {
  OfficeAtWork office;
  const core::Package package = office.print(kLoad).front();
  must(app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", LoadPurpose::Process, 1, {}}));
  must(add(office, kLoad, package));
  office.clock.turn_days(1);
  REQUIRE(code_of(app::start_load(office.ports(), {"CD", kLoad})) == "labels-name-another");
  REQUIRE(office.load(kLoad).state == LoadState::Open);
}

// EN 13060 summary: type N takes unwrapped solid items.
TEST_CASE("Type N takes neither wrapped packages nor hollow items", "[R30]") {
  OfficeAtWork office;
  const LoadName load{"S2", 1};
  const core::Package wrapped = office.print(load).front();
  must(app::open_load(office.ports(), {"CD", "S2", "steam-121", LoadPurpose::Process, 1, {}}));
  const auto refused = add(office, load, wrapped);
  REQUIRE(code_of(refused) == "program-not-allowed");
  REQUIRE(keys_of(refused.failure()) == std::vector<std::string>{"item.package"});
  REQUIRE(code_of(add_loose(office, load, "HOLLOW")) == "program-not-allowed");
  REQUIRE(code_of(add_loose(office, load, "EXAM", 0)) == "bad-value");
  REQUIRE(code_of(add_loose(office, load, "NONE")) == "code-unknown");
  REQUIRE(code_of(add_loose(office, load, "EXAM", 12)) == "ok");
  REQUIRE(code_of(app::start_load(office.ports(), {"CD", load})) == "ok");
}

TEST_CASE("An empty load does not start, and a test load takes no packages", "[R28]") {
  OfficeAtWork office;
  must(app::open_load(office.ports(), {"CD", "S1", "steam-134", LoadPurpose::Process, {}, {}}));
  REQUIRE(code_of(app::start_load(office.ports(), {"CD", kLoad})) == "load-empty");
  must(app::open_load(office.ports(), {"CD", "S1", "steam-134", LoadPurpose::BowieDick, {}, {}}));
  REQUIRE(code_of(add_loose(office, {"S1", 2}, "EXAM")) == "load-takes-no-packages");
  REQUIRE(code_of(app::start_load(office.ports(), {"CD", {"S1", 2}})) == "ok");
}

TEST_CASE("A package can be taken out before the start and not after it") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad, 2);
  must(app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", LoadPurpose::Process, 1, {}}));
  must(add(office, kLoad, packages[0]));
  must(add(office, kLoad, packages[1]));
  REQUIRE(code_of(add(office, kLoad, packages[1])) == "package-wrong-state");
  REQUIRE(code_of(app::remove_from_load(office.ports(), {"CD", kLoad, {packages[0].id.text()}, {}})) == "ok");
  REQUIRE(office.now(packages[0]).state == PackageState::Labelled);
  must(app::start_load(office.ports(), {"CD", kLoad}));
  REQUIRE(code_of(app::remove_from_load(office.ports(), {"CD", kLoad, {packages[1].id.text()}, {}})) ==
          "load-wrong-state");
  REQUIRE(code_of(add(office, kLoad, packages[0])) == "load-wrong-state");
}

TEST_CASE("Naming a package twice in one request is refused") {
  OfficeAtWork office;
  const core::Package package = office.print(kLoad).front();
  must(app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", LoadPurpose::Process, 1, {}}));
  const auto twice =
      app::add_to_load(office.ports(), {"CD", kLoad, {package.id.text(), package.payload}, {}});
  REQUIRE(code_of(twice) == "bad-value");
}

TEST_CASE("The machine's counter shows gaps and never repeats", "[R20]") {
  OfficeAtWork office;
  const auto run = [&](int number, std::optional<int> counter) {
    const LoadName load{"S1", number};
    office.start(load, office.print(load));
    return app::finish_load(office.ports(), {"CD", load, "", counter});
  };
  REQUIRE(must(run(1, 100)).counter_gap == 0);
  REQUIRE(must(run(2, 101)).counter_gap == 0);
  REQUIRE(must(run(3, 104)).counter_gap == 2);
  for (int counter : {104, 103, 101, 1}) {
    const LoadName load{"S1", 4};
    if (counter == 104) office.start(load, office.print(load));
    CAPTURE(counter);
    REQUIRE(code_of(app::finish_load(office.ports(), {"CD", load, "", counter})) == "counter-repeated");
    REQUIRE(office.load(load).state == LoadState::Running);
  }
  REQUIRE(must(app::finish_load(office.ports(), {"CD", {"S1", 4}, "", 105})).counter_gap == 0);
}

TEST_CASE("An aborted load keeps its reason and its packages are not to be used") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad);
  office.start(kLoad, packages);
  const auto reply = must(app::finish_load(office.ports(), {"CD", kLoad, "door opened", std::nullopt}));
  REQUIRE(reply.load.state == LoadState::Aborted);
  REQUIRE(reply.load.abort_reason == "door opened");
  REQUIRE(office.check(packages.front().payload).verdict.has(core::Reason::LoadAborted));
  REQUIRE(code_of(app::finish_load(office.ports(), {"CD", kLoad, "", std::nullopt})) == "load-wrong-state");
  REQUIRE(office.release(kLoad).load.state == LoadState::Aborted);
}

TEST_CASE("Readings are taken after the end, and replaced only with a reason") {
  OfficeAtWork office;
  office.start(kLoad, office.print(kLoad));
  app::ReadingsRequest request{"CD", kLoad, {132.5, 134, 4, 304, 20}, ""};
  REQUIRE(code_of(app::record_readings(office.ports(), request)) == "load-wrong-state");
  office.finish(kLoad);
  REQUIRE(code_of(app::record_readings(office.ports(), request)) == "ok");
  REQUIRE(code_of(app::record_readings(office.ports(), request)) == "ok");
  request.readings.minutes = 5;
  REQUIRE(code_of(app::record_readings(office.ports(), request)) == "result-differs");
  request.why = "misread the strip";
  REQUIRE(must(app::record_readings(office.ports(), request)).readings->minutes == 5);
}

TEST_CASE("Whichever call of the store fails, each step of a load is taken whole or not at all") {
  const auto opened = [](OfficeAtWork& office) {
    const core::Package package = office.print(kLoad).front();
    must(app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", LoadPurpose::Process, 1, {}}));
    return package;
  };
  const auto filled = [opened](OfficeAtWork& office) {
    const core::Package package = opened(office);
    must(add(office, kLoad, package));
    return package;
  };
  const auto running = [filled](OfficeAtWork& office) {
    const core::Package package = filled(office);
    must(app::start_load(office.ports(), {"CD", kLoad}));
    return package;
  };
  require_all_or_nothing(
      [](OfficeAtWork&) { return 0; },
      [](OfficeAtWork& office, int) {
        return app::open_load(office.ports(), {"CD", "S1", "steam-134", LoadPurpose::Process, {}, {}}).ok();
      });
  require_all_or_nothing(opened, [](OfficeAtWork& office, const core::Package& package) {
    return add(office, kLoad, package).ok();
  });
  require_all_or_nothing(filled, [](OfficeAtWork& office, const core::Package&) {
    return app::start_load(office.ports(), {"CD", kLoad}).ok();
  });
  require_all_or_nothing(running, [](OfficeAtWork& office, const core::Package&) {
    return app::finish_load(office.ports(), {"CD", kLoad, "", 7}).ok();
  });
}

}  // namespace loadlight::tests
