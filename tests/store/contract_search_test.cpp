#include "store_contract.h"

namespace loadlight::store {
namespace {

using namespace core;

std::vector<PackageId> ids(const std::vector<Package>& packages) {
  std::vector<PackageId> ids;
  for (const auto& package : packages) ids.push_back(package.id);
  return ids;
}

std::vector<int> numbers(const std::vector<Load>& loads) {
  std::vector<int> numbers;
  for (const auto& load : loads) numbers.push_back(load.name.number);
  return numbers;
}

std::vector<EventKind> kinds(const std::vector<port::FoundEvent>& events) {
  std::vector<EventKind> kinds;
  for (const auto& event : events) kinds.push_back(event.kind);
  return kinds;
}

void write_records(port::Store& store, std::vector<Record> records) {
  write(store, {a_change(EventKind::LabelsPrinted, 1, std::move(records))});
}

Package dated(int n, CivilDate process_date) {
  Package package = a_package(n);
  package.process_date = process_date;
  return package;
}

std::vector<PackageId> found(const port::Unit& unit, const port::PackageSearch& search,
                             port::SearchPage page = {}) {
  return ids(must(unit.packages().search(search, page)));
}

TEMPLATE_TEST_CASE("Packages are searched by each of their marks and by several together", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Package opened = a_package(1, 1, PackageState::Opened);
  opened.visit = "V-2071";
  opened.process_date = day(2026, 11, 20);
  write_records(*backend.store, {opened, dated(2, day(2026, 11, 21)), dated(3, day(2026, 11, 22))});
  const auto unit = reading(*backend.store);
  const auto all = std::vector{package_id(3), package_id(2), package_id(1)};
  CHECK(found(*unit, {}) == all);
  CHECK(found(*unit, {.visit = "V-2071"}) == std::vector{package_id(1)});
  CHECK(found(*unit, {.visit = "V-207"}).empty());
  CHECK(found(*unit, {.contents = "EXAM"}) == all);
  CHECK(found(*unit, {.contents = "EXA"}).empty());
  CHECK(found(*unit, {.operator_code = "AB"}) == all);
  CHECK(found(*unit, {.operator_code = "XX"}).empty());
  CHECK(found(*unit, {.id_part = package_id(2).text().substr(3)}) == std::vector{package_id(2)});
  CHECK(found(*unit, {.id_part = "%"}).empty());
  CHECK(found(*unit, {.first = day(2026, 11, 21), .last = day(2026, 11, 21)}) == std::vector{package_id(2)});
  CHECK(found(*unit, {.first = day(2026, 11, 21)}) == std::vector{package_id(3), package_id(2)});
  CHECK(found(*unit, {.last = day(2026, 11, 20)}) == std::vector{package_id(1)});
  CHECK(found(*unit, {.visit = "V-2071", .first = day(2026, 11, 21)}).empty());
}

TEMPLATE_TEST_CASE("A search is paged without a gap and without a double", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  std::vector<Record> packages;
  for (int n = 1; n <= 7; ++n) packages.push_back(a_package(n));
  write_records(*backend.store, packages);
  const auto unit = reading(*backend.store);
  std::vector<PackageId> paged;
  for (int skip = 0; skip < 9; skip += 3) {
    for (const auto& id : found(*unit, {}, {skip, 3})) paged.push_back(id);
  }
  CHECK(paged == found(*unit, {}));
  CHECK(paged.size() == 7);
  CHECK(found(*unit, {}, {0, 0}).empty());
}

TEMPLATE_TEST_CASE("Loads are searched by name, day and decision, those not started last", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const auto run = [](int number, unsigned on) {
    Load load = a_load(number, LoadState::Released);
    load.run = number;
    load.process_date = day(2026, 11, on);
    load.decided_by = number % 2 == 0 ? "AB" : "";
    return load;
  };
  write_records(*backend.store, {run(10, 3), run(11, 3), run(12, 2)});
  const auto unit = reading(*backend.store);
  const auto search = [&](const port::LoadSearch& wanted, port::SearchPage page = {}) {
    return numbers(must(unit->loads().search(wanted, page)));
  };
  CHECK(search({}) == std::vector{11, 10, 12, 3, 2, 1});
  CHECK(search({}, {1, 2}) == std::vector{10, 12});
  CHECK(search({.sterilizer = "S2"}).empty());
  CHECK(search({.sterilizer = "S1", .number = 12}) == std::vector{12});
  CHECK(search({.decided_by = "AB"}) == std::vector{10, 12});
  CHECK(search({.first = day(2026, 11, 3)}) == std::vector{11, 10});
  CHECK(search({.last = day(2026, 11, 2)}) == std::vector{12});
}

TEMPLATE_TEST_CASE("What a label replaced is found from the new one", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  Package old_label = a_package(1, 1, PackageState::Void);
  old_label.replaced_by = package_id(2);
  write_records(*backend.store, {old_label, a_package(2), a_package(3, 1, PackageState::Void)});
  const auto unit = reading(*backend.store);
  CHECK(ids(must(unit->packages().replaced_by(package_id(2)))) == std::vector{package_id(1)});
  CHECK(must(unit->packages().replaced_by(package_id(1))).empty());
}

TEMPLATE_TEST_CASE("Events are found by subject, by kind and by the package they name", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  const auto about = [](EventKind kind, std::string subject, std::vector<Record> records,
                        core::Details details = {}) {
    Change change = a_change(kind, 1, std::move(records));
    change.subject = std::move(subject);
    change.details = std::move(details);
    return change;
  };
  const std::string id = package_id(1).text();
  write(*backend.store,
        {founding(), about(EventKind::LabelsPrinted, "S1-1", {a_package(1), a_package(2)}),
         about(EventKind::PackageChecked, id, {}, {{"outcome", "hold"}}),
         about(EventKind::PackagesShelved, "SHELF1", {a_package(1)}),
         about(EventKind::PackagesShelved, "SHELF1", {a_package(2)}),
         about(EventKind::PackagesSeen, "SHELF1-1", {}, {{"label", "LL1.S" + id + ".1TS1-1"}}),
         about(EventKind::LabelVoided, package_id(3).text() + " " + id, {})});
  const auto unit = reading(*backend.store);
  const auto find = [&](const port::LedgerSearch& search) { return must(unit->find_events(search)); };
  CHECK(kinds(find({.subject = id})) == std::vector{EventKind::PackageChecked});
  CHECK(find({.subject = id}).front().details == core::Details{{"outcome", "hold"}});
  CHECK(find({.subject = id}).front().sequence == 3);
  CHECK(find({.subject = "SHELF1"}).size() == 2);
  CHECK(find({.subject = "SHELF1", .package = package_id(1)}).size() == 1);
  CHECK(find({.subject = "SHELF1", .kind = EventKind::PackagesSeen}).empty());
  CHECK(find({.subject = "SHELF1-1", .package = package_id(1)}).size() == 1);
  CHECK(find({.subject = "SHELF1-1", .package = package_id(2)}).empty());
  CHECK(find({.kind = EventKind::LabelVoided, .package = package_id(1)}).size() == 1);
  CHECK(kinds(find({.package = package_id(1)})) ==
        std::vector{EventKind::LabelsPrinted, EventKind::PackageChecked, EventKind::PackagesShelved,
                    EventKind::PackagesSeen, EventKind::LabelVoided});
  CHECK(find({}).size() == 7);
}

TEMPLATE_TEST_CASE("A verification tells how far it has come and stops when it is told to", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const auto unit = writing(*backend.store);
  for (int i = 0; i < 600; ++i) must(unit->write(a_change(EventKind::PackageChecked, i)));
  must(unit->commit());
  std::vector<port::VerifyProgress> told;
  CHECK(must(backend.store->verify([&](const port::VerifyProgress& progress) {
          told.push_back(progress);
          return true;
        })).empty());
  REQUIRE_FALSE(told.empty());
  CHECK(told.front().all == (told.front().in_tables ? told.front().all : 601));
  for (const auto& progress : told) CHECK(progress.done <= progress.all);
  const auto stopped = backend.store->verify([](const port::VerifyProgress&) { return false; });
  REQUIRE_FALSE(stopped);
  CHECK(stopped.failure().code == FailureCode::Stopped);
}

}  // namespace
}  // namespace loadlight::store
