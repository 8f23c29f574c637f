#include <algorithm>
#include <set>

#include "store_contract.h"

namespace loadlight::store {
namespace {

using namespace core;

const CivilDate kToday = day(2026, 12, 1);

std::vector<PackageId> ids(const std::vector<Package>& packages) {
  std::vector<PackageId> ids;
  for (const auto& package : packages) ids.push_back(package.id);
  return ids;
}

void write_records(port::Store& store, std::vector<Record> records) {
  write(store, {a_change(EventKind::LabelsPrinted, 1, std::move(records))});
}

std::optional<Package> oldest(port::Store& store) {
  return must(reading(store)->packages().oldest_ready("EXAM", "PCH", kToday));
}

TEMPLATE_TEST_CASE("A load's packages come by print run and cell, whatever became of them", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Package late = a_package(1, 1, PackageState::Void);
  late.print_run = 2;
  Package early = a_package(9, 1, PackageState::Opened);
  write_records(*backend.store, {a_print_run(2), late, early, a_package(3), a_package(4, 2)});
  const auto unit = reading(*backend.store);
  CHECK(ids(must(unit->packages().of_load({"S1", 1}))) ==
        std::vector<PackageId>{package_id(3), package_id(9), package_id(1)});
  CHECK(ids(must(unit->packages().of_print_run(1))) ==
        std::vector<PackageId>{package_id(3), package_id(4), package_id(9)});
  CHECK(must(unit->packages().of_load({"S1", 3})).empty());
  CHECK(must(unit->packages().of_load({"S2", 1})).empty());
  CHECK(must(unit->packages().of_print_run(3)).empty());
}

TEMPLATE_TEST_CASE("Every package is visited once, over many batches", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const int count = GENERATE(0, 1, 500, 1203);
  std::vector<Record> packages;
  for (int n = 1; n <= count; ++n) packages.push_back(a_package(n));
  write_records(*backend.store, packages);
  std::set<PackageId> seen;
  int visits = 0;
  const auto unit = reading(*backend.store);
  must(unit->packages().each([&](const Package& package) {
    ++visits;
    seen.insert(package.id);
    CHECK(must(unit->packages().find(package.id)) == package);
  }));
  CHECK(visits == count);
  CHECK(seen.size() == static_cast<std::size_t>(count));
}

TEMPLATE_TEST_CASE("The oldest ready package is the one with the earliest process date, then the smallest id",
                   "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const auto dated = [](int n, CivilDate process_date) {
    Package package = a_package(n, 1, PackageState::Loaded);
    package.process_date = process_date;
    return package;
  };
  CHECK_FALSE(oldest(*backend.store));
  write_records(*backend.store, {a_load(1, LoadState::Released), dated(1, day(2026, 11, 30))});
  CHECK(oldest(*backend.store)->id == package_id(1));
  write_records(*backend.store, {dated(2, day(2026, 10, 2)), dated(3, day(2026, 10, 2))});
  CHECK(oldest(*backend.store)->id == std::min(package_id(2), package_id(3)));
}

TEMPLATE_TEST_CASE("A package is ready on its use-by day and not on the day after", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Package package = a_package(1, 1, PackageState::Loaded);
  package.use_by = kToday;
  write_records(*backend.store, {a_load(1, LoadState::Released), package});
  CHECK(oldest(*backend.store) == package);
  package.use_by = kToday.plus_days(-1);
  write_records(*backend.store, {package});
  CHECK_FALSE(oldest(*backend.store));
}

TEMPLATE_TEST_CASE("What is not loaded, released and free of recall is not ready", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Package package = a_package(1, 1, PackageState::Loaded);
  Load load = a_load(1, LoadState::Released);
  write_records(*backend.store, {load, package});
  REQUIRE(oldest(*backend.store));
  SECTION("by its state") {
    for (const auto& term : Vocabulary<PackageState>::kTerms) {
      package.state = term.value;
      write_records(*backend.store, {package});
      CHECK(oldest(*backend.store).has_value() == (term.value == PackageState::Loaded));
    }
  }
  SECTION("by its load's state") {
    for (const auto& term : Vocabulary<LoadState>::kTerms) {
      load.state = term.value;
      write_records(*backend.store, {load});
      CHECK(oldest(*backend.store).has_value() == (term.value == LoadState::Released));
    }
  }
  SECTION("by recall") {
    package.recalled = true;
    write_records(*backend.store, {package});
    CHECK_FALSE(oldest(*backend.store));
  }
  SECTION("of other contents or kind") {
    CHECK_FALSE(must(reading(*backend.store)->packages().oldest_ready("OTHER", "PCH", kToday)));
    CHECK_FALSE(must(reading(*backend.store)->packages().oldest_ready("EXAM", "OTH", kToday)));
  }
}

TEMPLATE_TEST_CASE("Loads are found by number, newest first, by reservation and by counter", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  auto counted = [](int number, int counter) {
    Load load = a_load(number, LoadState::Finished);
    load.machine_counter = counter;
    return load;
  };
  write(*backend.store, {founding()});
  write_records(*backend.store,
                {counted(9, 41), counted(10, 42), counted(11, 41), a_load(100, LoadState::Open)});
  const auto unit = reading(*backend.store);
  const auto& loads = unit->loads();
  std::vector<int> numbers;
  for (const auto& load : must(loads.newest_of("S1", 4))) numbers.push_back(load.name.number);
  CHECK(numbers == std::vector<int>{100, 11, 10, 9});
  CHECK(must(loads.newest_of("S1", 0)).empty());
  CHECK(must(loads.newest_of("S2", 4)).empty());
  CHECK(must(loads.highest_number("S1")) == 100);
  CHECK(must(loads.highest_number("S")) == 0);
  CHECK(must(loads.first_reserved("S1"))->name.number == 1);
  CHECK_FALSE(must(loads.first_reserved("S2")));
  CHECK(must(loads.with_counter("S1", 42))->name.number == 10);
  CHECK(must(loads.with_counter("S1", 41))->name.number == 11);
  CHECK_FALSE(must(loads.with_counter("S1", 43)));
  CHECK_FALSE(must(loads.with_counter("S2", 42)));
  CHECK_FALSE(must(loads.find({"S1", 12})));
}

TEMPLATE_TEST_CASE("Evidence comes by number, of its load only", "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  write_records(*backend.store, {an_indicator(10), an_indicator(9), an_indicator(3, 2), a_biological(12),
                                 a_biological(2), a_biological(1, 2)});
  const auto unit = reading(*backend.store);
  const auto& evidence = unit->evidence();
  CHECK(must(evidence.indicators_of({"S1", 1})) == std::vector{an_indicator(9), an_indicator(10)});
  CHECK(must(evidence.biologicals_of({"S1", 1})) == std::vector{a_biological(2), a_biological(12)});
  CHECK(must(evidence.indicators_of({"S1", 3})).empty());
  CHECK(must(evidence.highest_indicator_number()) == 10);
  CHECK(must(evidence.highest_biological_number()) == 12);
}

TEMPLATE_TEST_CASE("Open incidents come by number, closed ones only count", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Incident closed = an_incident(11);
  closed.state = IncidentState::Closed;
  write_records(*backend.store, {an_incident(10), closed, an_incident(2)});
  const auto unit = reading(*backend.store);
  CHECK(must(unit->incidents().open_ones()) == std::vector{an_incident(2), an_incident(10)});
  CHECK(must(unit->incidents().highest_number()) == 11);
}

}  // namespace
}  // namespace loadlight::store
