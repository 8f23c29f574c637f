// Queries by the order in which a sterilizer ran its loads, by day, purpose and state.
#include "store_contract.h"

namespace loadlight::store {
namespace {

using namespace core;

const CivilDate kDay = day(2026, 11, 25);

Load a_run(int number, int run, CivilDate process_date = kDay, std::string sterilizer = "S1") {
  Load load = a_load(number, LoadState::Released);
  load.name.sterilizer = std::move(sterilizer);
  load.run = run;
  load.process_date = process_date;
  load.program = "dynamic-132-wrapped";
  return load;
}

Load a_test(int number, int run, LoadPurpose purpose) {
  Load load = a_run(number, run);
  load.purpose = purpose;
  return load;
}

void write_records(port::Store& store, std::vector<Record> records) {
  write(store, {a_change(EventKind::LoadStarted, 1, std::move(records))});
}

// S1: load 12 ran first, then 10, then 11 by another program, and 13 has not run.
void write_runs(port::Store& store) {
  Load other = a_run(11, 3);
  other.program = "steam-134";
  write(store, {founding()});
  write_records(store, {a_sterilizer("S2"), a_run(12, 1), a_run(10, 2), other, a_load(13, LoadState::Open),
                        a_run(1, 2, kDay, "S2")});
}

std::vector<int> numbers(const std::vector<Load>& loads) {
  std::vector<int> numbers;
  for (const Load& load : loads) numbers.push_back(load.name.number);
  return numbers;
}

std::vector<PackageId> packages_in(port::Store& store, const port::RunRange& runs) {
  std::vector<PackageId> ids;
  must(reading(store)->packages().of_runs(runs, [&](const Package& package) { ids.push_back(package.id); }));
  return ids;
}

TEMPLATE_TEST_CASE("Loads of a range come by run, both ends included, of one program or of any", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write_runs(*backend.store);
  const auto unit = reading(*backend.store);
  const auto of = [&](port::RunRange runs) { return numbers(must(unit->loads().of_runs(runs))); };
  CHECK(of({"S1", 1, 3, {}}) == std::vector{12, 10, 11});
  CHECK(of({"S1", 2, 2, {}}) == std::vector{10});
  CHECK(of({"S1", 2, 99, "dynamic-132-wrapped"}) == std::vector{10});
  CHECK(of({"S1", 1, 3, ""}).empty());
  CHECK(of({"S1", 3, 2, {}}).empty());
  CHECK(of({"S2", 1, 3, {}}) == std::vector{1});
  CHECK(must(unit->loads().highest_run("S1")) == 3);
  CHECK(must(unit->loads().highest_run("S2")) == 2);
  CHECK(must(unit->loads().highest_run("S3")) == 0);
}

TEMPLATE_TEST_CASE("Packages of a range come by run, print run and cell, whatever became of them",
                   "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write_runs(*backend.store);
  Package reprinted = a_package(1, 12, PackageState::Void);
  reprinted.print_run = 2;
  write_records(*backend.store, {a_print_run(2), reprinted, a_package(9, 12, PackageState::Opened),
                                 a_package(3, 10), a_package(2, 11), a_package(4, 13)});
  auto& store = *backend.store;
  CHECK(packages_in(store, {"S1", 1, 3, {}}) ==
        std::vector{package_id(9), package_id(1), package_id(3), package_id(2)});
  CHECK(packages_in(store, {"S1", 1, 3, "steam-134"}) == std::vector{package_id(2)});
  CHECK(packages_in(store, {"S1", 2, 2, {}}) == std::vector{package_id(3)});
  CHECK(packages_in(store, {"S2", 1, 3, {}}).empty());
  CHECK(packages_in(store, {"S1", 4, 9, {}}).empty());
}

TEMPLATE_TEST_CASE("Loads of a day come by run, and loads of many days by day, sterilizer and run",
                   "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const CivilDate next = kDay.plus_days(1), later = kDay.plus_days(40);
  write_records(*backend.store, {a_sterilizer("S2"), a_run(12, 1), a_run(10, 2), a_run(1, 1, kDay, "S2"),
                                 a_run(11, 3, next), a_run(14, 4, later), a_load(13, LoadState::Open)});
  const auto unit = reading(*backend.store);
  CHECK(numbers(must(unit->loads().of_day("S1", kDay))) == std::vector{12, 10});
  CHECK(numbers(must(unit->loads().of_day("S1", next))) == std::vector{11});
  CHECK(must(unit->loads().of_day("S2", next)).empty());
  const auto visited = [&](CivilDate first, CivilDate last) {
    std::vector<std::string> names;
    must(unit->loads().of_days(first, last, [&](const Load& load) { names.push_back(load.name.text()); }));
    return names;
  };
  using Names = std::vector<std::string>;
  CHECK(visited(kDay, later) == Names{"S1-12", "S1-10", "S2-1", "S1-11", "S1-14"});
  CHECK(visited(next, later.plus_days(-1)) == Names{"S1-11"});
  CHECK(visited(kDay.plus_days(-9), kDay.plus_days(-1)).empty());
  CHECK(visited(later, kDay).empty());
}

TEMPLATE_TEST_CASE("Tests before a run come newest first and leave that run out", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  write_records(*backend.store,
                {a_test(12, 1, LoadPurpose::BowieDick), a_run(10, 2), a_test(11, 3, LoadPurpose::BowieDick),
                 a_test(14, 4, LoadPurpose::Leak), a_test(9, 5, LoadPurpose::BowieDick)});
  const auto unit = reading(*backend.store);
  const auto before = [&](LoadPurpose purpose, int run, int limit) {
    return numbers(must(unit->loads().of_purpose_before("S1", purpose, run, limit)));
  };
  CHECK(before(LoadPurpose::BowieDick, 5, 9) == std::vector{11, 12});
  CHECK(before(LoadPurpose::BowieDick, 6, 1) == std::vector{9});
  CHECK(before(LoadPurpose::Leak, 4, 9).empty());
  CHECK(before(LoadPurpose::Leak, 5, 0).empty());
  CHECK(must(unit->loads().of_purpose_before("S2", LoadPurpose::Leak, 9, 9)).empty());
}

TEMPLATE_TEST_CASE("Loads in a state come by sterilizer and number", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Load other = a_load(5, LoadState::Quarantined);
  other.name.sterilizer = "S0";
  write_records(*backend.store, {a_sterilizer("S0"), a_load(100, LoadState::Quarantined),
                                 a_load(20, LoadState::Quarantined), a_load(30, LoadState::Finished), other});
  const auto unit = reading(*backend.store);
  CHECK(numbers(must(unit->loads().in_state(LoadState::Quarantined))) == std::vector{5, 20, 100});
  CHECK(numbers(must(unit->loads().in_state(LoadState::Reserved))) == std::vector{1, 2, 3});
  CHECK(must(unit->loads().in_state(LoadState::Revoked)).empty());
}

TEMPLATE_TEST_CASE("Loads released as an emergency come by reason, sterilizer and number", "[contract]", SqliteBackend,
                   PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const auto because = [](int number, LoadState state, const char* reason) {
    Load load = a_load(number, state);
    load.emergency_reason = reason;
    return load;
  };
  write_records(*backend.store, {because(20, LoadState::Released, "trauma"), because(30, LoadState::Released, ""),
                                 because(40, LoadState::Failed, "trauma"), because(9, LoadState::Released, "trauma"),
                                 because(50, LoadState::Released, "implant")});
  const auto unit = reading(*backend.store);
  CHECK(numbers(must(unit->loads().released_as_emergency())) == std::vector{50, 9, 20});
}

TEMPLATE_TEST_CASE("Retests of an incident come by run, those that were started", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const auto retest = [](int number, std::optional<int> run, int incident) {
    Load load = a_load(number, LoadState::Finished);
    load.purpose = LoadPurpose::Retest;
    load.run = run;
    load.retest_of = incident;
    return load;
  };
  write_records(*backend.store, {an_incident(1), an_incident(2), retest(12, 4, 1), retest(11, 5, 1),
                                 retest(13, 3, 1), retest(14, {}, 1), retest(15, 6, 2)});
  const auto unit = reading(*backend.store);
  CHECK(numbers(must(unit->loads().retests_of(1))) == std::vector{13, 12, 11});
  CHECK(numbers(must(unit->loads().retests_of(2))) == std::vector{15});
  CHECK(must(unit->loads().retests_of(3)).empty());
}

TEMPLATE_TEST_CASE("Packages near their last day come by that day and id, no more than asked", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const auto until = [](int n, std::optional<CivilDate> use_by, int load = 1,
                        PackageState state = PackageState::Loaded) {
    Package package = a_package(n, load, state);
    package.use_by = use_by;
    return package;
  };
  Package recalled = until(6, kDay);
  recalled.recalled = true;
  write_records(*backend.store, {a_load(1, LoadState::Released), until(1, kDay.plus_days(2)), until(2, kDay),
                                 until(3, kDay.plus_days(3)), until(4, {}), until(5, kDay, 2), recalled,
                                 until(7, kDay, 1, PackageState::Opened), until(8, kDay.plus_days(-400))});
  const auto unit = reading(*backend.store);
  const auto found = [&](CivilDate last, int limit) {
    std::vector<PackageId> ids;
    for (const auto& package : must(unit->packages().use_by_until(last, limit))) ids.push_back(package.id);
    return ids;
  };
  CHECK(found(kDay.plus_days(2), 9) == std::vector{package_id(8), package_id(2), package_id(1)});
  CHECK(found(kDay.plus_days(2), 2) == std::vector{package_id(8), package_id(2)});
  CHECK(found(kDay.plus_days(-401), 9).empty());
  CHECK(found(kDay, 0).empty());
}

}  // namespace
}  // namespace loadlight::store
