#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;

std::optional<core::Instant> newest(port::Store& store) {
  return must(reading(store)->newest_event());
}

TEMPLATE_TEST_CASE("The ledger keeps every event in order, each chained to the one before", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  core::Change check = a_change(EventKind::PackageChecked, -3);
  check.operator_code.clear();
  check.subject = "8Q4T0ZK3MW";
  write(*backend.store, {founding(), check});
  const auto entries = ledger_of(*backend.store);
  REQUIRE(entries.size() == 2);
  CHECK(entries[0].sequence == 1);
  CHECK(entries[0].kind == "office-made");
  CHECK(entries[0].operator_code == "AB");
  CHECK(entries[0].previous == std::string(64, '0'));
  CHECK(entries[1].sequence == 2);
  CHECK(entries[1].at == moment(-3));
  CHECK(entries[1].kind == "package-checked");
  CHECK(entries[1].operator_code.empty());
  CHECK(entries[1].subject == "8Q4T0ZK3MW");
  CHECK(entries[1].previous == entries[0].hash);
  CHECK(entries[1].hash.size() == 64);
}

TEMPLATE_TEST_CASE("A walk of the ledger stops when it is told to", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  for (int i = 0; i < 5; ++i) write(*backend.store, {a_change(EventKind::PackageChecked, i)});
  std::int64_t last = 0;
  must(backend.store->each_entry([&](const core::LedgerEntry& entry) {
    last = entry.sequence;
    return entry.sequence < 3;
  }));
  CHECK(last == 3);
}

TEMPLATE_TEST_CASE("A walk of the ledger meets every entry, over many batches", "[contract]", SqliteBackend, PostgresBackend,
                   MemoryBackend) {
  TestType backend;
  const auto unit = writing(*backend.store);
  for (int i = 0; i < 1001; ++i) must(unit->write(a_change(EventKind::PackageChecked, i)));
  must(unit->commit());
  const auto entries = ledger_of(*backend.store);
  REQUIRE(entries.size() == 1001);
  for (std::size_t i = 0; i < entries.size(); ++i)
    CHECK(entries[i].sequence == static_cast<std::int64_t>(i) + 1);
}

TEMPLATE_TEST_CASE("The newest event is the latest time, until the clock is corrected", "[contract]",
                   SqliteBackend, PostgresBackend, MemoryBackend) {
  TestType backend;
  auto& store = *backend.store;
  write(store, {a_change(EventKind::PackageChecked, 10)});
  CHECK(newest(store) == moment(10));
  write(store, {a_change(EventKind::PackageChecked, 5)});
  CHECK(newest(store) == moment(10));
  write(store, {a_change(EventKind::ClockCorrected, 2)});
  CHECK(newest(store) == moment(2));
  write(store, {a_change(EventKind::PackageChecked, 1)});
  CHECK(newest(store) == moment(2));
  write(store, {a_change(EventKind::PackageChecked, 3)});
  CHECK(newest(store) == moment(3));
  CHECK(must(store.verify()).empty());
}

}  // namespace
}  // namespace loadlight::store
