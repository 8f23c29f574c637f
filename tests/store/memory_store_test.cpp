#include "memory_store.h"

#include <functional>

#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;
using core::FailureCode;

const core::Failure kFull{FailureCode::DiskFull, {{"why", "broken on purpose"}}, {}};

// A use case in small: true when every call of it succeeded.
bool print_package(port::Store& store) {
  const auto unit = store.begin(port::Access::Write);
  return unit && (*unit)->office() && (*unit)->packages().find(package_id(1)) &&
         (*unit)->write(a_change(EventKind::LabelsPrinted, 1, {a_package(1)})) && (*unit)->commit();
}

TEST_CASE("Whichever call is broken, the unit it belongs to changes nothing") {
  MemoryStore store;
  write(store, {founding()});
  store.break_call(0, kFull);
  REQUIRE(print_package(store));
  const int calls = store.calls();
  CHECK(calls == 5);
  for (int nth = 1; nth <= calls; ++nth) {
    INFO("call " << nth);
    MemoryStore broken;
    write(broken, {founding()});
    broken.break_call(nth, kFull);
    CHECK_FALSE(print_package(broken));
    CHECK(ledger_of(broken).size() == 1);
    CHECK_FALSE(must(reading(broken)->packages().find(package_id(1))));
    CHECK(print_package(broken));
  }
}

TEST_CASE("Every query that is broken says so") {
  using port::Unit;
  const auto nothing = [](const auto&) {};
  const std::vector<std::function<bool(const Unit&)>> queries{
      [](const Unit& u) { return u.programs().all().ok(); },
      [](const Unit& u) { return u.programs().find("P").ok(); },
      [](const Unit& u) { return u.consumables().all().ok(); },
      [](const Unit& u) { return u.settings().all().ok(); },
      [&](const Unit& u) {
        return u.packages().of_runs({"S1", 1, 2, {}}, nothing).ok();
      },
      [](const Unit& u) { return u.packages().use_by_until(day(2026, 12, 1), 9).ok(); },
      [](const Unit& u) { return u.loads().highest_run("S1").ok(); },
      [](const Unit& u) {
        return u.loads().of_runs({"S1", 1, 2, {}}).ok();
      },
      [](const Unit& u) { return u.loads().of_day("S1", day(2026, 12, 1)).ok(); },
      [&](const Unit& u) { return u.loads().of_days(day(2026, 1, 1), day(2026, 2, 1), nothing).ok(); },
      [](const Unit& u) { return u.loads().of_purpose_before("S1", core::LoadPurpose::Leak, 9, 1).ok(); },
      [](const Unit& u) { return u.loads().in_state(core::LoadState::Open).ok(); },
      [](const Unit& u) { return u.loads().retests_of(1).ok(); },
      [](const Unit& u) {
        return u.evidence().runs_of({"S1", 1}).ok();
      },
      [](const Unit& u) { return u.evidence().find_run(1).ok(); },
      [](const Unit& u) { return u.evidence().open_runs().ok(); },
      [](const Unit& u) { return u.evidence().highest_run_number().ok(); },
      [](const Unit& u) { return u.evidence().biologicals_of_sterilizer("S1").ok(); },
      [](const Unit& u) { return u.evidence().loads_of_lot("B-1").ok(); },
      [](const Unit& u) { return u.evidence().find_log(1).ok(); },
      [](const Unit& u) { return u.evidence().highest_log_number().ok(); },
      [](const Unit& u) { return u.incidents().find(1).ok(); },
      [](const Unit& u) { return u.incidents().all().ok(); },
      [](const Unit& u) { return u.incident_work().steps_of(1).ok(); },
      [](const Unit& u) { return u.incident_work().highest_step_number().ok(); },
      [](const Unit& u) { return u.incident_work().accounted_in(1).ok(); },
      [](const Unit& u) { return u.services().of_sterilizer("S1").ok(); },
      [](const Unit& u) { return u.services().highest_number().ok(); },
      [](const Unit& u) { return u.events_about("S1", EventKind::LoadOpened).ok(); }};
  MemoryStore store;
  write(store, {founding()});
  for (std::size_t i = 0; i < queries.size(); ++i) {
    CAPTURE(i);
    const auto unit = reading(store);
    store.break_call(1, kFull);
    CHECK_FALSE(queries[i](*unit));
    CHECK(queries[i](*unit));
  }
}

TEST_CASE("What verification is to find it finds") {
  MemoryStore store;
  store.set_alterations({{"ledger 3", "hash-wrong"}});
  CHECK(must(store.verify()).at(0).where == "ledger 3");
}

}  // namespace
}  // namespace loadlight::store
