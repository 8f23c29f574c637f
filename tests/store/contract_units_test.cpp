#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;
using core::FailureCode;
using port::Access;

bool holds_package(const port::Unit& unit, int n) {
  return must(unit.packages().find(package_id(n))).has_value();
}

TEMPLATE_TEST_CASE("An empty record has no events and no office", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  const auto unit = reading(*backend.store);
  CHECK_FALSE(must(unit->newest_event()));
  CHECK(unit->office().failure().code == FailureCode::RecordDamaged);
  CHECK(must(unit->operators().all()).empty());
  CHECK(must(unit->loads().highest_number("S1")) == 0);
  CHECK(must(unit->print_runs().highest_number()) == 0);
  CHECK(ledger_of(*backend.store).empty());
  CHECK(must(backend.store->verify()).empty());
}

TEMPLATE_TEST_CASE("A unit that is not committed changes nothing", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  {
    const auto unit = writing(*backend.store);
    must(unit->write(a_change(EventKind::LabelsPrinted, 1, {a_package(1)})));
    must(unit->write(a_change(EventKind::LabelsPrinted, 2, {a_package(2)})));
  }
  CHECK_FALSE(holds_package(*reading(*backend.store), 1));
  CHECK_FALSE(holds_package(*reading(*backend.store), 2));
  CHECK(ledger_of(*backend.store).size() == 1);
  CHECK(*must(reading(*backend.store)->newest_event()) == moment(0));
}

TEMPLATE_TEST_CASE("A unit reads what it has written before it commits", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  const auto unit = writing(*backend.store);
  must(unit->write(founding()));
  CHECK(must(unit->office()) == an_office());
  must(unit->write(a_change(EventKind::LabelsPrinted, 7, {a_package(1)})));
  CHECK(holds_package(*unit, 1));
  CHECK(*must(unit->newest_event()) == moment(7));
  must(unit->commit());
  CHECK(holds_package(*reading(*backend.store), 1));
}

TEMPLATE_TEST_CASE("After a write that failed the unit cannot commit, and nothing of it happened",
                   "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  {
    const auto unit = writing(*backend.store);
    must(unit->write(a_change(EventKind::LabelsPrinted, 1, {a_package(1)})));
    auto wrong = a_package(2);
    wrong.contents = "NONE";
    const auto written = unit->write(a_change(EventKind::LabelsPrinted, 2, {a_package(3), wrong}));
    CHECK_FALSE((written.ok() && unit->commit().ok()));
  }
  CHECK_FALSE(holds_package(*reading(*backend.store), 1));
  CHECK_FALSE(holds_package(*reading(*backend.store), 3));
  CHECK(ledger_of(*backend.store).size() == 1);
  CHECK(must(backend.store->verify()).empty());
}

TEMPLATE_TEST_CASE("A reading unit cannot write, and its commit is no mistake", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  const auto unit = reading(*backend.store);
  CHECK(unit->write(founding()).failure().code == FailureCode::Internal);
  must(unit->commit());
  CHECK(ledger_of(*backend.store).empty());
}

TEMPLATE_TEST_CASE("A unit commits once", "[contract]", SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  const auto unit = writing(*backend.store);
  must(unit->write(founding()));
  must(unit->commit());
  CHECK(unit->commit().failure().code == FailureCode::Internal);
  CHECK(unit->write(founding()).failure().code == FailureCode::Internal);
  CHECK(ledger_of(*backend.store).size() == 1);
}

TEMPLATE_TEST_CASE("While one unit writes a second is busy, and may follow", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  auto first = writing(*backend.store);
  CHECK(backend.store->begin(Access::Write).failure().code == FailureCode::OfficeBusy);
  must(first->write(founding()));
  must(first->commit());
  first.reset();
  const auto second = writing(*backend.store);
  CHECK(must(second->office()) == an_office());
}

TEMPLATE_TEST_CASE("A reading unit sees one state, whatever is written meanwhile", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  const auto before = reading(*backend.store);
  write(*backend.store, {a_change(EventKind::LabelsPrinted, 9, {a_package(1)})});
  CHECK_FALSE(holds_package(*before, 1));
  CHECK(*must(before->newest_event()) == moment(0));
  CHECK(holds_package(*reading(*backend.store), 1));
}

TEMPLATE_TEST_CASE("A record that names what is not there is not kept", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  auto wrong = a_package(1);
  SECTION("contents") {
    wrong.contents = "NONE";
  }
  SECTION("kind") {
    wrong.kind = "NON";
  }
  SECTION("operator") {
    wrong.operator_code = "NO";
  }
  SECTION("load") {
    wrong.load.number = 99;
  }
  SECTION("print run") {
    wrong.print_run = 99;
  }
  SECTION("location") {
    wrong.location = "NONE";
  }
  SECTION("other package") {
    wrong.replaced_by = package_id(99);
  }
  const auto unit = writing(*backend.store);
  const auto written = unit->write(a_change(EventKind::LabelsPrinted, 1, {wrong}));
  CHECK_FALSE((written.ok() && unit->commit().ok()));
  CHECK_FALSE(holds_package(*reading(*backend.store), 1));
}

TEMPLATE_TEST_CASE("Records of one unit may name each other in any order", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  write(*backend.store, {founding()});
  auto old_label = a_package(1, 1, core::PackageState::Void);
  old_label.replaced_by = package_id(2);
  write(*backend.store, {a_change(EventKind::LabelReplaced, 1, {old_label, a_package(2, 9), a_load(9)})});
  CHECK(must(reading(*backend.store)->packages().find(package_id(1))) == old_label);
}

}  // namespace
}  // namespace loadlight::store
