// Several stations and several offices in one PostgreSQL database. What it leans on: PostgreSQL 15 documentation,
// 13.2.3 (serializable isolation), 5.8 (row security policies).
#include <catch2/catch.hpp>
#include <algorithm>
#include <set>
#include <thread>

#include "loadlight/store/group_record.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;
using core::FailureCode;
using core::PackageState;
using port::Access;

std::unique_ptr<port::Store> station(const PostgresBackend& office, const std::string& name,
                                     std::chrono::milliseconds patience = std::chrono::seconds{20}) {
  return must(open_group_record(office.address, {.station = name, .patience = patience}));
}

std::string count_of(PostgresSession& session, const std::string& table) {
  const auto row = must(session.first_row("SELECT count(*) FROM " + table));
  return std::to_string(std::get<std::int64_t>((*row)[0]));
}

bool was_written(port::Store& store, const core::Change& change) {
  const auto unit = must(store.begin(Access::Write));
  auto done = unit->write(change);
  if (done) done = unit->commit();
  if (!done) REQUIRE(done.failure().code == FailureCode::ChangedMeanwhile);
  return done.ok();
}

TEST_CASE("Each station of an office has a chain of its own, and the ledger is whole") {
  const PostgresBackend office;
  write(*office.store, {founding()});
  std::vector<std::thread> threads;
  std::atomic<int> refused{0};
  for (int s = 0; s < 4; ++s) {
    threads.emplace_back([&office, &refused, s] {
      const auto store = station(office, "WEST" + std::to_string(s));
      for (int i = 0; i < 25; ++i) {
        while (!was_written(*store, a_change(EventKind::PackageChecked, i))) ++refused;
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  CHECK(refused <= 10);  // only where two begin their chains at once
  const auto entries = ledger_of(*office.store);
  CHECK(entries.size() == 101);
  std::set<std::string> chains;
  for (const auto& entry : entries) chains.insert(entry.chain);
  CHECK(chains == std::set<std::string>{"T1", "WEST0", "WEST1", "WEST2", "WEST3"});
  CHECK(must(office.store->verify()).empty());
}

TEST_CASE("Of two stations that change one package at once one is told so, and nothing of its change is kept") {
  const PostgresBackend office;
  write(*office.store, {founding(), a_change(EventKind::LabelsPrinted, 1, {a_package(1, 1, PackageState::Loaded)})});
  const auto west = station(office, "WEST"), east = station(office, "EAST");
  const auto first = writing(*west), second = writing(*east);
  for (const auto* unit : {&first, &second}) {
    REQUIRE(must((*unit)->packages().find(package_id(1)))->state == PackageState::Loaded);
  }
  must(first->write(a_change(EventKind::PackageOpened, 2, {a_package(1, 1, PackageState::Opened)})));
  must(first->commit());
  auto written = second->write(a_change(EventKind::PackageWithdrawn, 3, {a_package(1, 1, PackageState::Withdrawn)}));
  if (written) written = second->commit();
  REQUIRE_FALSE(written);
  CHECK(written.failure().code == FailureCode::ChangedMeanwhile);
  CHECK(must(reading(*west)->packages().find(package_id(1)))->state == PackageState::Opened);
  CHECK(must(office.store->verify()).empty());
}

// Neither writes what the other wrote; each wrote what the other's decision was read from.
TEST_CASE("A release and a failed indicator at the same moment are not both kept") {
  const PostgresBackend office;
  write(*office.store, {founding()});
  const auto west = station(office, "WEST"), east = station(office, "EAST");
  const auto releasing = writing(*west), reading_indicator = writing(*east);
  CHECK(must(releasing->evidence().indicators_of({"S1", 1})).empty());
  CHECK(must(reading_indicator->loads().find({"S1", 1}))->state == core::LoadState::Reserved);
  must(releasing->write(a_change(EventKind::LoadReleased, 2, {a_load(1, core::LoadState::Released)})));
  must(reading_indicator->write(a_change(EventKind::IndicatorRead, 2, {an_indicator(1)})));
  const auto first = releasing->commit(), second = reading_indicator->commit();
  CHECK(first.ok() != second.ok());
  CHECK((first ? second : first).failure().code == FailureCode::ChangedMeanwhile);
  CHECK(must(office.store->verify()).empty());
}

TEST_CASE("The newest event is that of any station, and one correction of the clock counts for all") {
  const PostgresBackend office;
  write(*office.store, {founding()});
  const auto west = station(office, "WEST"), east = station(office, "EAST");
  write(*west, {a_change(EventKind::PackageChecked, 500)});
  CHECK(must(writing(*east)->newest_event()) == moment(500));
  CHECK(must(reading(*east)->newest_event()) == moment(500));
  write(*east, {a_change(EventKind::ClockCorrected, 20)});
  CHECK(must(writing(*west)->newest_event()) == moment(20));
  CHECK(must(office.store->verify()).empty());
}

// The correction sets every chain's newest event: one that it does not see yet must not stand beside it.
TEST_CASE("A station's first entry and a correction of the clock at the same moment leave a whole ledger") {
  const PostgresBackend office;
  write(*office.store, {founding()});
  const auto west = station(office, "WEST"), east = station(office, "EAST");
  write(*east, {a_change(EventKind::PackageChecked, 900)});
  const auto first = writing(*west), correcting = writing(*east);
  must(first->write(a_change(EventKind::PackageChecked, 950)));
  must(correcting->write(a_change(EventKind::ClockCorrected, 20)));
  must(correcting->commit());
  (void)first->commit().ok();
  CHECK(must(office.store->verify()).empty());
  while (!was_written(*west, a_change(EventKind::PackageChecked, 30))) {}
  CHECK(must(office.store->verify()).empty());
}

TEST_CASE("An office sees its own rows alone, and changes no other's") {
  const PostgresBackend ours;
  const PostgresBackend theirs{ours.database};
  write(*ours.store, {founding()});
  write(*theirs.store, {founding(), a_change(EventKind::LabelsPrinted, 1, {a_package(1)})});
  const auto session = session_as(ours.office, ours.database->name);
  for (const std::string table : {"office", "operators", "loads", "ledger", "ledger_head", "packages"}) {
    INFO(table);
    const auto own = must(session->first_row("SELECT count(*) FROM " + table + " WHERE office_no <> own_office()"));
    CHECK((*own)[0] == SqlValue{std::int64_t{0}});
  }
  CHECK(count_of(*session, "ledger") == "1");
  CHECK(count_of(*session, "packages") == "0");
  const auto theirs_no = must(session_as("postgres", ours.database->name)->first_row("SELECT office_no FROM offices WHERE name = $1", {theirs.office}));
  for (const std::string sql : {"UPDATE operators SET name = 'x' WHERE office_no = $1",
                                "INSERT INTO operators (office_no, code, name, role) VALUES ($1, 'XX', 'x', 'lead')",
                                "DELETE FROM packages WHERE office_no = $1"}) {
    INFO(sql);
    (void)session->run(sql, *theirs_no).ok();
  }
  CHECK(must(theirs.store->verify()).empty());
  CHECK(must(reading(*theirs.store)->operators().all()).size() == must(reading(*ours.store)->operators().all()).size());
}

TEST_CASE("No role changes or takes back a line of the ledger, not even the tables' owner") {
  const PostgresBackend office;
  write(*office.store, {founding()});
  for (const std::string& role : {office.office, std::string{"postgres"}}) {
    const auto session = session_as(role, office.database->name);
    for (const std::string sql : {"UPDATE ledger SET subject = 'x'", "DELETE FROM ledger", "TRUNCATE ledger"}) {
      INFO(role << ": " << sql);
      CHECK_FALSE(session->run(sql));
    }
  }
  CHECK(must(office.store->verify()).empty());
}

TEST_CASE("Who belongs to no office, or calls his station by no name, opens nothing") {
  const PostgresBackend office;
  must(session_as("postgres", office.database->name)->run("DO $$ BEGIN IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'stranger')"
                                   " THEN CREATE ROLE stranger LOGIN IN ROLE loadlight_station; END IF; END $$"));
  CHECK(open_group_record(test_server_address("stranger", office.database->name), {.station = "W"}).failure().code ==
        FailureCode::OfficeAbsent);
  for (const std::string name : {"", "west", "A B", "SEVENTEENLETTERSX"}) {
    INFO(name);
    CHECK(open_group_record(office.address, {.station = name}).failure().code == FailureCode::BadValue);
  }
  CHECK(open_group_record("host=/nowhere dbname=none", {.station = "W"}).failure().code ==
        FailureCode::OfficeUnreadable);
}

TEST_CASE("A session whose connection was cut is replaced by a new one") {
  const PostgresBackend office;
  write(*office.store, {founding()});
  const auto west = station(office, "WEST");
  write(*west, {a_change(EventKind::PackageChecked, 1)});
  must(session_as("postgres", office.database->name)->run("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE usename = $1",
                                   {office.office}));
  write(*west, {a_change(EventKind::PackageChecked, 2)});
  CHECK(ledger_of(*west).size() == 3);
}

}  // namespace
}  // namespace loadlight::store
