// A group's database that another program made.
#include <catch2/catch.hpp>

#include "loadlight/store/group_record.h"
#include "loadlight/store/mirror.h"
#include "store/schema.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;
using core::FailureCode;

FailureCode opening(const PostgresBackend& office) {
  const auto opened = open_group_record(office.address, {.station = "T2"});
  REQUIRE_FALSE(opened);
  return opened.failure().code;
}

// As a database was whose tables are of version 4.
void take_back_to_version_4(const PostgresBackend& office) {
  const auto session = session_as("postgres", office.database->name);
  must(session->run("DROP FUNCTION close_ledger(), continue_ledger(), own_sequence()"));
  must(session->run("DROP TABLE whereabouts"));
  must(session->run("ALTER TABLE consumables DROP CONSTRAINT consumables_kind_check,"
                    " ADD CONSTRAINT consumables_kind_check CHECK (kind IN ('chemical', 'air-removal', 'biological'))"));
  must(session->run("DROP INDEX loads_by_emergency"));
  must(session->run("GRANT USAGE ON ALL SEQUENCES IN SCHEMA loadlight TO loadlight_station"));
  must(session->mark_as_record(4));
}

TEST_CASE("Tables of an earlier program are refused until one command brought them up to date and kept every row") {
  const PostgresBackend office;
  write(*office.store, {founding()});
  take_back_to_version_4(office);
  CHECK(opening(office) == FailureCode::OfficeOlder);
  must(prepare_group(office.database->admin()));
  must(prepare_group(office.database->admin()));
  write(*office.store, {a_change(EventKind::PackageChecked, 1)});
  CHECK(must(office.store->verify()).empty());
  CHECK(must(session_as("postgres", office.database->name)
                 ->first_row("SELECT has_sequence_privilege('loadlight_station', 'ledger_sequence_1', 'USAGE')")) ==
        std::optional<SqlRow>{{std::int64_t{0}}});
  const PostgresBackend beside{office.database};
  const RecordPlace from{.address = office.address}, to{.address = beside.address};
  CHECK(must(mirror_record(from, to)).added == 2);
  write(*beside.store, {a_change(EventKind::PackageChecked, 2)});
  CHECK(must(beside.store->verify()).empty());
}

TEST_CASE("A station whose program is older than the tables is refused") {
  const PostgresBackend office;
  write(*office.store, {founding()});
  must(session_as("postgres", office.database->name)->mark_as_record(kSchemaVersion + 1));
  CHECK(opening(office) == FailureCode::OfficeNewer);
  const auto prepared = prepare_group(office.database->admin());
  REQUIRE_FALSE(prepared);
  CHECK(prepared.failure().code == FailureCode::OfficeNewer);
}

}  // namespace
}  // namespace loadlight::store
