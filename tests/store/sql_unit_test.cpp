#include <limits>
#include <thread>

#include "loadlight/store/record.h"
#include "store/writing_turns.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;
using core::FailureCode;

TEST_CASE("Text that is no UTF-8 or holds a NUL is refused, and nothing of the unit happens") {
  const std::string wrong =
      GENERATE(std::string{"\xC3"}, std::string{"a\0b", 3}, std::string{"\xED\xA0\x80"});
  SqliteBackend backend;
  write(*backend.store, {founding()});
  core::Change change = a_change(EventKind::LocationAdded, 1, {a_location("A")});
  SECTION("in a record") {
    std::get<core::Location>(change.records[0]).name = wrong;
  }
  SECTION("in the subject") {
    change.subject = wrong;
  }
  SECTION("in a detail") {
    change.details = {{"why", wrong}};
  }
  const auto unit = writing(*backend.store);
  CHECK(unit->write(change).failure().code == FailureCode::BadEncoding);
  CHECK(unit->commit().failure().code == FailureCode::BadEncoding);
  CHECK(ledger_of(*backend.store).size() == 1);
}

TEST_CASE("A reading that is no number is refused") {
  SqliteBackend backend;
  write(*backend.store, {founding()});
  core::Load load = a_load(1);
  load.readings = core::Readings{132, 134, std::numeric_limits<double>::infinity(), 304, {}};
  const auto unit = writing(*backend.store);
  CHECK(unit->write(a_change(EventKind::ReadingsRecorded, 1, {load})).failure().code ==
        FailureCode::BadValue);
}

TEST_CASE("A value outside its column's range is not kept") {
  SqliteBackend backend;
  core::LabelStock stock = a_stock("S");
  stock.dpi = 99;
  const auto unit = writing(*backend.store);
  CHECK_FALSE(unit->write(a_change(EventKind::StockAdded, 1, {stock})));
  CHECK_FALSE(unit->commit());
}

TEST_CASE("Details stand in the body in the order given, a repeated key as a list") {
  SqliteBackend backend;
  core::Change change = a_change(EventKind::PackageChecked, 1);
  change.details = {{"z", "1"}, {"package", "A"}, {"a", "\"ü\""}, {"package", "B"}, {"package", "C"}};
  write(*backend.store, {change});
  CHECK(ledger_of(*backend.store).at(0).body ==
        R"({"details":{"z":"1","package":["A","B","C"],"a":"\"ü\""},"records":[]})");
}

TEST_CASE("Two stores on one record see what the other has committed") {
  SqliteBackend backend;
  const auto other = must(open_record(backend.folder.path()));
  write(*backend.store, {founding()});
  write(*other, {a_change(EventKind::LabelsPrinted, 1, {a_package(1)})});
  CHECK(must(reading(*backend.store)->packages().find(package_id(1))));
  CHECK(ledger_of(*backend.store).size() == 2);
}

TEST_CASE("Threads that write through one store wait for each other and lose nothing") {
  const TemporaryFolder folder;
  const auto store = must(create_record(folder.path()));
  const auto work = [&](int first) {
    for (int i = 0; i < 50; ++i) {
      const auto unit = store->begin(port::Access::Write);
      const bool written =
          unit && (*unit)->write(a_change(EventKind::PackageChecked, first + i)) && (*unit)->commit();
      if (!written) return;
    }
  };
  std::thread one{work, 0}, two{work, 1000}, three{work, 2000};
  one.join(), two.join(), three.join();
  CHECK(ledger_of(*store).size() == 150);
  CHECK(must(store->verify()).empty());
}

TEST_CASE("Units that write come to their turn in the order in which they asked") {
  const auto turns = std::make_shared<WritingTurns>();
  auto first = turns->take(std::chrono::milliseconds{0});
  REQUIRE(first);
  std::vector<int> order;
  std::vector<std::thread> threads;
  for (int i = 0; i < 4; ++i) {
    threads.emplace_back([&turns, &order, i] {
      const auto mine = turns->take(std::chrono::seconds{60});
      if (mine) order.push_back(i);
    });
    std::this_thread::sleep_for(std::chrono::milliseconds{50});  // so that they ask one after the other
  }
  first.reset();
  for (std::thread& thread : threads) thread.join();
  CHECK(order == std::vector<int>{0, 1, 2, 3});
}

TEST_CASE("Whoever gave up waiting for his turn is in nobody's way") {
  const auto turns = std::make_shared<WritingTurns>();
  auto first = turns->take(std::chrono::milliseconds{0});
  CHECK_FALSE(turns->take(std::chrono::milliseconds{1}));
  first.reset();
  CHECK(turns->take(std::chrono::milliseconds{0}));
}

}  // namespace
}  // namespace loadlight::store
