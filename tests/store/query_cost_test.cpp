// Queries cost the same in a small office and in a large one. Counted in steps of SQLite's machine, so that
// the figures are the same on every run.
#include <sqlite3.h>

#include "store_contract.h"

namespace loadlight::store {
namespace {

using namespace core;

struct Cost final {
  int steps = 0;
  int scanned = 0;  // rows passed in a walk over a whole table
  int sorts = 0;
};
Cost cost;

int count_statement(unsigned, void*, void* statement, void*) {
  auto* done = static_cast<sqlite3_stmt*>(statement);
  cost.steps += sqlite3_stmt_status(done, SQLITE_STMTSTATUS_VM_STEP, 1);
  cost.scanned += sqlite3_stmt_status(done, SQLITE_STMTSTATUS_FULLSCAN_STEP, 1);
  cost.sorts += sqlite3_stmt_status(done, SQLITE_STMTSTATUS_SORT, 1);
  return 0;
}

int watch(sqlite3* database, char**, const void*) {
  return sqlite3_trace_v2(database, SQLITE_TRACE_PROFILE, count_statement, nullptr);
}

// Every connection opened during its life is counted.
struct Watch final {
  Watch() { sqlite3_auto_extension(reinterpret_cast<void (*)()>(watch)); }
  ~Watch() { sqlite3_reset_auto_extension(); }
};

// Loads of 50 packages: of every five one is released; its packages are used but for the newest.
void fill_office(port::Store& store, int packages) {
  write(store, {founding()});
  const auto unit = writing(store);
  for (int n = 1; n <= packages;) {
    const int number = 10 + n / 50;
    Load load = a_load(number, number % 5 == 0 ? LoadState::Released : LoadState::Failed);
    load.run = number;
    load.process_date = day(2024, 1, 1).plus_days(number / 4);
    load.program = "dynamic-132-wrapped";
    if (number % 4 == 0) load.purpose = LoadPurpose::BowieDick;
    std::vector<Record> records{load};
    for (int i = 0; i < 50; ++i, ++n) {
      const bool used = number % 5 != 0 || n < packages - 250;
      records.push_back(a_package(n, number, used ? PackageState::Opened : PackageState::Loaded));
    }
    must(unit->write(a_change(EventKind::LabelsPrinted, n, records)));
  }
  must(unit->commit());
}

template <class Query>
Cost cost_of(port::Store& store, Query query) {
  const auto unit = reading(store);
  cost = {};
  query(*unit);
  return cost;
}

template <class Query>
void check_same(const char* name, port::Store& small, port::Store& large, Query query) {
  INFO(name);
  const Cost in_small = cost_of(small, query);
  const Cost in_large = cost_of(large, query);
  CHECK(in_small.steps > 0);
  CHECK(in_large.steps <= in_small.steps * 1.3);
  CHECK(in_large.scanned <= 1);  // a query may look at the one row of its table
  CHECK(in_large.sorts == 0);
}

TEST_CASE("Queries cost the same with 1,000 and with 20,000 packages") {
  const Watch watched;
  SqliteBackend small, large;
  fill_office(*small.store, 1000);
  fill_office(*large.store, 20000);
  const auto same = [&](const char* name, auto query) {
    check_same(name, *small.store, *large.store, query);
  };
  same("a package", [](auto& unit) { REQUIRE(must(unit.packages().find(package_id(77)))); });
  same("packages of a load", [](auto& unit) {
    REQUIRE(must(unit.packages().of_load({"S1", 12})).size() == 50);
  });
  same("oldest ready",
       [](auto& unit) { REQUIRE(must(unit.packages().oldest_ready("EXAM", "PCH", day(2026, 12, 1)))); });
  same("none ready", [](auto& unit) {
    REQUIRE_FALSE(must(unit.packages().oldest_ready("NONE", "PCH", day(2026, 12, 1))));
  });
  same("a load", [](auto& unit) { REQUIRE(must(unit.loads().find({"S1", 12}))); });
  same("newest loads", [](auto& unit) { REQUIRE(must(unit.loads().newest_of("S1", 5)).size() == 5); });
  same("highest load", [](auto& unit) { REQUIRE(must(unit.loads().highest_number("S1")) > 20); });
  same("first reserved", [](auto& unit) { REQUIRE(must(unit.loads().first_reserved("S1"))); });
  same("by counter", [](auto& unit) { REQUIRE_FALSE(must(unit.loads().with_counter("S1", 1))); });
  same("indicators", [](auto& unit) { REQUIRE(must(unit.evidence().indicators_of({"S1", 12})).empty()); });
  same("highest run", [](auto& unit) { REQUIRE(must(unit.loads().highest_run("S1")) > 20); });
  same("loads of runs", [](auto& unit) {
    REQUIRE(must(unit.loads().of_runs({"S1", 11, 14, {}})).size() == 4);
  });
  same("packages of runs", [](auto& unit) {
    int count = 0;
    must(unit.packages().of_runs({"S1", 12, 13, {}}, [&](const Package&) { ++count; }));
    REQUIRE(count == 100);
  });
  same("loads of a day",
       [](auto& unit) { REQUIRE(must(unit.loads().of_day("S1", day(2024, 1, 4))).size() == 4); });
  same("loads of days", [](auto& unit) {
    int count = 0;
    must(unit.loads().of_days(day(2024, 1, 4), day(2024, 1, 5), [&](const Load&) { ++count; }));
    REQUIRE(count == 8);
  });
  same("the test before a run", [](auto& unit) {
    REQUIRE(must(unit.loads().of_purpose_before("S1", LoadPurpose::BowieDick, 20, 1)).size() == 1);
  });
  same("no such test before a run", [](auto& unit) {
    REQUIRE(must(unit.loads().of_purpose_before("S1", LoadPurpose::Leak, 20, 1)).empty());
  });
  same("loads in a state",
       [](auto& unit) { REQUIRE(must(unit.loads().in_state(LoadState::Quarantined)).empty()); });
  same("no emergency", [](auto& unit) { REQUIRE(must(unit.loads().released_as_emergency()).empty()); });
  same("retests", [](auto& unit) { REQUIRE(must(unit.loads().retests_of(1)).empty()); });
  same("near their last day",
       [](auto& unit) { REQUIRE(must(unit.packages().use_by_until(day(2026, 12, 1), 10)).empty()); });
  same("packages at a location",
       [](auto& unit) { REQUIRE(must(unit.packages().at_location("NONE")).empty()); });
  same("biological runs", [](auto& unit) { REQUIRE(must(unit.evidence().runs_of({"S1", 12})).empty()); });
  same("none tested", [](auto& unit) { REQUIRE(must(unit.evidence().newest_tested_before("S1", 12)) == 0); });
  same("open results", [](auto& unit) { REQUIRE(must(unit.evidence().open_runs()).empty()); });
  same("results of a sterilizer",
       [](auto& unit) { REQUIRE(must(unit.evidence().biologicals_of_sterilizer("S1")).empty()); });
  same("services", [](auto& unit) { REQUIRE(must(unit.services().of_sterilizer("S1")).empty()); });
  same("events about a load",
       [](auto& unit) { REQUIRE(must(unit.events_about("S1-12", EventKind::LoadReleased)).empty()); });
  same("all events about a load that name a package", [](auto& unit) {
    REQUIRE(must(unit.find_events({.subject = "S1-12", .package = package_id(77)})).empty());
  });
  same("highest print run", [](auto& unit) { REQUIRE(must(unit.print_runs().highest_number()) == 1); });
  same("open incidents", [](auto& unit) { REQUIRE(must(unit.incidents().open_ones()).empty()); });
  same("newest event", [](auto& unit) { REQUIRE(must(unit.newest_event())); });
  same("office", [](auto& unit) { REQUIRE(must(unit.office()) == an_office()); });
}

}  // namespace
}  // namespace loadlight::store
