// A record that goes to another place and back, entry by entry.
#include "loadlight/store/mirror.h"

#include <catch2/catch.hpp>

#include "full_office.h"
#include "loadlight/store/group_record.h"
#include "loadlight/store/record.h"
#include "store/row_batches.h"
#include "store/schema.h"
#include "store/sessions.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;
using core::FailureCode;
using core::PackageState;

struct Folder final {
  Folder() { must(create_record(folder.path())); }
  RecordPlace place() const { return {.folder = folder.path()}; }
  TemporaryFolder folder;
};

RecordPlace place_of(const PostgresBackend& office) {
  return {.address = office.address};
}
RecordPlace place_of(const FullOffice& office) {
  return {.folder = office.path()};
}

// Every row of every table, the ledger and its heads among them; a chain without entries says nothing.
std::vector<SqlRow> everything_in(const RecordPlace& place) {
  const auto session = must(open_place(place));
  std::vector<const TableShape*> tables = record_tables();
  tables.push_back(&table_of<core::LedgerEntry>().shape());
  tables.push_back(&table_of<LedgerHead>().shape());
  std::vector<SqlRow> all;
  for (const TableShape* table : tables) {
    must(each_row(*session, *table, [&](const SqlRow& row) -> core::Result<bool> {
      const bool empty_head = table->name() == "ledger_head" && row[1] == SqlValue{std::int64_t{0}};
      if (!empty_head) all.push_back(row);
      return true;
    }));
  }
  return all;
}

std::string altered(const RecordPlace& place) {
  return text(must(verify_place(place)));
}

FailureCode code_of(const core::Result<MirrorReply>& reply) {
  REQUIRE_FALSE(reply);
  return reply.failure().code;
}

std::unique_ptr<port::Store> station(const PostgresBackend& office, const std::string& name) {
  return must(open_group_record(office.address, {.station = name}));
}

TEST_CASE("A record that goes from SQLite to PostgreSQL and back is whole and the same") {
  const FullOffice office;
  const PostgresBackend group;
  const Folder back;
  const auto before = everything_in(place_of(office));
  const auto there = must(mirror_record(place_of(office), place_of(group)));
  CHECK(there.added > 0);
  CHECK(everything_in(place_of(group)) == before);
  CHECK(altered(place_of(group)) == "");
  CHECK(must(mirror_record(place_of(group), back.place())).added == there.added);
  CHECK(everything_in(back.place()) == before);
  CHECK(altered(back.place()) == "");
  CHECK(must(same_ledger(place_of(office), back.place())));
}

TEST_CASE("A move that is interrupted at every batch is gone on with") {
  const FullOffice office;
  const PostgresBackend group;
  std::int64_t stops = 0;
  for (;; ++stops) {
    const auto reply = mirror_record(place_of(office), place_of(group), {1, [](const MirrorProgress&) { return false; }});
    if (reply) break;
    REQUIRE(reply.failure().code == FailureCode::Stopped);
    REQUIRE(altered(place_of(group)) == "");
  }
  CHECK(stops == static_cast<std::int64_t>(ledger_of(*must(open_record(office.path()))).size()));
  CHECK(everything_in(place_of(group)) == everything_in(place_of(office)));
}

TEST_CASE("What stations write meanwhile is fetched by the next call, also where it was numbered before") {
  const PostgresBackend group;
  write(*group.store, {founding()});
  const auto west = station(group, "WEST"), east = station(group, "EAST");
  write(*west, {a_change(EventKind::PackageChecked, 1)});
  write(*east, {a_change(EventKind::PackageChecked, 2)});
  const Folder copy;
  CHECK(must(mirror_record(place_of(group), copy.place())).added == 3);
  const auto early = writing(*west);
  must(early->write(a_change(EventKind::PackageChecked, 3)));
  write(*east, {a_change(EventKind::PackageChecked, 4)});
  CHECK(must(mirror_record(place_of(group), copy.place())).added == 1);
  must(early->commit());
  CHECK(must(mirror_record(place_of(group), copy.place())).added == 1);
  CHECK(must(mirror_record(place_of(group), copy.place())).added == 0);
  CHECK(altered(copy.place()) == "");
  CHECK(everything_in(copy.place()) == everything_in(place_of(group)));
}

TEST_CASE("A record that came from several stations is written on in SQLite and goes back to them") {
  const PostgresBackend group;
  write(*group.store, {founding()});
  const auto west = station(group, "WEST");
  write(*west, {a_change(EventKind::PackageChecked, 1)});
  const Folder copy;
  must(mirror_record(place_of(group), copy.place()));
  const auto store = must(open_record(copy.folder.path()));
  write(*store, {a_change(EventKind::PackageChecked, 2), a_change(EventKind::PackageChecked, 3),
                 a_change(EventKind::ClockCorrected, 4), a_change(EventKind::PackageChecked, 5)});
  CHECK(text(must(store->verify())) == "");
  const auto entries = ledger_of(*store);
  CHECK(entries.back().chain == "");
  CHECK(entries.back().link == 4);
  CHECK(must(mirror_record(copy.place(), place_of(group))).added == 4);
  write(*west, {a_change(EventKind::PackageChecked, 6)});
  write(*group.store, {a_change(EventKind::PackageChecked, 7)});
  CHECK(altered(place_of(group)) == "");
  CHECK(must(mirror_record(place_of(group), copy.place())).added == 2);
  write(*store, {a_change(EventKind::PackageChecked, 8)});
  CHECK(text(must(store->verify())) == "");
}

TEST_CASE("An entry that was taken out or changed in such a record is found") {
  const PostgresBackend group;
  write(*group.store, {founding(), a_change(EventKind::PackageChecked, 1)});
  const Folder copy;
  must(mirror_record(place_of(group), copy.place()));
  write(*must(open_record(copy.folder.path())), {a_change(EventKind::PackageChecked, 2), a_change(EventKind::PackageChecked, 3)});
  const auto session = must(open_place(copy.place()));
  must(session->run("DROP TRIGGER ledger_refuses_delete"));
  must(session->run("DELETE FROM ledger WHERE sequence = 3"));
  CHECK_THAT(altered(copy.place()), Catch::Contains("ledger 1 entry-missing"));
}

TEST_CASE("A target that holds what the source lacks is refused and stays as it is") {
  const FullOffice office;
  const PostgresBackend group;
  const Folder other;
  must(mirror_record(place_of(office), other.place()));
  must(mirror_record(place_of(office), place_of(group)));
  write(*group.store, {a_change(EventKind::PackageChecked, 1)});
  const auto before = everything_in(place_of(group));
  CHECK(code_of(mirror_record(place_of(office), place_of(group))) == FailureCode::RecordsDiffer);
  write(*must(open_record(other.folder.path())), {a_change(EventKind::PackageChecked, 2)});
  CHECK(code_of(mirror_record(other.place(), place_of(group))) == FailureCode::RecordsDiffer);
  CHECK(everything_in(place_of(group)) == before);
}

TEST_CASE("An end that was cut off in the source is found missing in the target") {
  const FullOffice office;
  const Folder copy, target;
  must(mirror_record(place_of(office), copy.place()));
  const auto session = must(open_place(copy.place()));
  must(session->run("DROP TRIGGER ledger_refuses_delete"));
  must(session->run("DELETE FROM ledger WHERE sequence = (SELECT max(sequence) FROM ledger)"));
  must(mirror_record(copy.place(), target.place()));
  CHECK_THAT(altered(target.place()), Catch::Contains("entry-missing"));
}

TEST_CASE("A record that the office left is read and written by nobody until it is the office's again") {
  const Folder folder;
  const PostgresBackend group;
  const auto store = must(open_record(folder.folder.path()));
  write(*store, {founding()});
  write(*group.store, {founding()});
  must(set_whereabouts(folder.place(), {Standing::Moved, "there"}));
  must(set_whereabouts(place_of(group), {Standing::Moved, "there"}));
  CHECK(store->begin(port::Access::Read).failure().code == FailureCode::OfficeMoved);
  CHECK(open_record(folder.folder.path()).failure().code == FailureCode::OfficeMoved);
  CHECK(open_group_record(group.address, {.station = "T2"}).failure().code == FailureCode::OfficeMoved);
  CHECK(writing(*group.store)->write(a_change(EventKind::PackageChecked, 1)).failure().code == FailureCode::OfficeMoved);
  must(set_whereabouts(folder.place(), {}));
  must(set_whereabouts(place_of(group), {}));
  write(*store, {a_change(EventKind::PackageChecked, 1)});
  write(*group.store, {a_change(EventKind::PackageChecked, 1)});
  CHECK(altered(place_of(group)) == "");
}

TEST_CASE("Closing a record in PostgreSQL waits for whoever is writing, whose entry is then there") {
  const PostgresBackend group;
  write(*group.store, {founding()});
  const auto unit = writing(*group.store);
  must(unit->write(a_change(EventKind::PackageChecked, 1)));
  const auto session = session_as(group.office, group.database->name);
  must(session->find_own_office());
  must(session->run("SET lock_timeout = 100"));
  CHECK(session->close_ledger().failure().code == FailureCode::OfficeBusy);
  must(unit->commit());
  must(set_whereabouts(place_of(group), {Standing::Arriving, "there"}));
  must(set_whereabouts(place_of(group), {}));
  CHECK(ledger_of(*group.store).size() == 2);
}

}  // namespace
}  // namespace loadlight::store
