#include "memory_store.h"

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

TEST_CASE("What verification is to find it finds") {
  MemoryStore store;
  store.set_alterations({{"ledger 3", "hash-wrong"}});
  CHECK(must(store.verify()).at(0).where == "ledger 3");
}

}  // namespace
}  // namespace loadlight::store
