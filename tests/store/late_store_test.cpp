#include <catch2/catch.hpp>

#include "loadlight/store/late_store.h"
#include "store/memory_store.h"

namespace loadlight::store {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
using Store = std::unique_ptr<port::Store>;

// A record whose server is there or not, and a clock.
struct Reach final {
  Store late(Store opened = nullptr) {
    return make_late_store({[this]() -> Result<Store> {
                              ++tries;
                              if (there) return Store{std::make_unique<MemoryStore>()};
                              return Failure{why, {}, {}};
                            },
                            std::move(opened), {}, {}, [this] { return now; }});
  }
  std::string begin(port::Store& store) {
    const auto unit = store.begin(port::Access::Read);
    return unit ? "ok" : std::string{core::to_text(unit.failure().code)};
  }

  bool there = false;
  FailureCode why = FailureCode::OfficeUnreadable;
  int tries = 0;
  std::chrono::steady_clock::time_point now{std::chrono::hours{1}};
};

}  // namespace

TEST_CASE("A record that is out of reach at first is opened once it can be") {
  Reach reach;
  const auto store = reach.late();
  REQUIRE(reach.begin(*store) == "office-unreadable");
  reach.there = true;
  REQUIRE(reach.begin(*store) == "office-unreadable");
  REQUIRE(reach.tries == 1);
  reach.now += kLeftAlone - std::chrono::milliseconds{1};
  REQUIRE(reach.begin(*store) == "office-unreadable");
  REQUIRE_FALSE(store->verify());
  REQUIRE_FALSE(store->each_entry([](const core::LedgerEntry&) { return true; }));
  reach.now += std::chrono::milliseconds{1};
  REQUIRE(reach.begin(*store) == "ok");
  REQUIRE(reach.begin(*store) == "ok");
  REQUIRE(store->verify());
  REQUIRE(reach.tries == 2);
}

TEST_CASE("A record that was out of reach just now is not asked at once again") {
  Reach reach;
  reach.there = true;
  const auto store = make_late_store({[]() -> Result<Store> { return Store{std::make_unique<MemoryStore>()}; }, {},
                                      Failure{FailureCode::OfficeUnreadable, {}, {}}, std::chrono::seconds{3},
                                      [&reach] { return reach.now; }});
  reach.now += std::chrono::seconds{6};
  REQUIRE(reach.begin(*store) == "office-unreadable");
  reach.now += kLeftAlone;
  REQUIRE(reach.begin(*store) == "ok");
}

TEST_CASE("A record that goes out of reach is left alone for a moment") {
  Reach reach;
  auto opened = std::make_unique<MemoryStore>();
  MemoryStore& record = *opened;
  const auto store = reach.late(std::move(opened));
  REQUIRE(reach.begin(*store) == "ok");
  record.break_call(1, {FailureCode::OfficeUnreadable, {}, {}});
  REQUIRE(reach.begin(*store) == "office-unreadable");
  REQUIRE(reach.begin(*store) == "office-unreadable");
  reach.now += kLeftAlone;
  REQUIRE(reach.begin(*store) == "ok");
  record.break_call(1, {FailureCode::OfficeBusy, {}, {}});
  REQUIRE(reach.begin(*store) == "office-busy");
  REQUIRE(reach.begin(*store) == "ok");
  REQUIRE(reach.tries == 0);
}

}  // namespace loadlight::store
