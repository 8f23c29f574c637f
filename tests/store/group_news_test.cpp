// That a station hears of what others write. What it leans on: PostgreSQL 15 documentation, LISTEN and NOTIFY.
#include "loadlight/store/group_news.h"

#include <atomic>
#include <chrono>
#include <thread>

#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;

// Within ten seconds.
template <class Condition>
bool comes(Condition condition) {
  for (int i = 0; i < 1000; ++i) {
    if (condition()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds{10});
  }
  return false;
}

struct Hearing final {
  explicit Hearing(const std::string& address) : listener(listen_for_changes(address, [this] { ++times; })) {}
  bool hears_after(int before) const {
    return comes([&] { return times > before; });
  }
  std::atomic<int> times{0};
  std::unique_ptr<port::ChangeListener> listener;
};

TEST_CASE("What a station writes is heard by its office's others and by no other office's") {
  const PostgresBackend ours;
  const PostgresBackend theirs{ours.database};
  const Hearing our_ear{ours.address}, their_ear{theirs.address};
  REQUIRE(comes([&] { return our_ear.listener->hears() && their_ear.listener->hears() && our_ear.times == 1 && their_ear.times == 1; }));
  write(*ours.store, {founding()});
  CHECK(our_ear.hears_after(1));
  write(*theirs.store, {founding()});
  CHECK(their_ear.hears_after(1));
  CHECK(their_ear.times == 2);
}

TEST_CASE("What is only read or given up is not told") {
  const PostgresBackend office;
  write(*office.store, {founding()});
  const Hearing ear{office.address};
  REQUIRE(comes([&] { return ear.times == 1; }));
  must(reading(*office.store)->office());
  must(writing(*office.store)->write(a_change(EventKind::PackageChecked, 1)));
  write(*office.store, {a_change(EventKind::PackageChecked, 2)});
  CHECK(ear.hears_after(1));
  CHECK(ear.times == 2);
}

TEST_CASE("A listener whose line breaks says so, and hears again") {
  const PostgresBackend office;
  const Hearing ear{office.address};
  REQUIRE(comes([&] { return ear.times == 1; }));
  must(session_as("postgres", office.database->name)
           ->run("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE query LIKE 'LISTEN %'"
                 " AND datname = current_database()"));
  CHECK(ear.hears_after(2));  // that the line is gone, and that another stands
  CHECK(ear.listener->hears());
  write(*office.store, {founding()});
  CHECK(ear.hears_after(3));
}

TEST_CASE("Without a server a listener does not hear, and ends at once") {
  const Hearing ear{"postgresql://nobody@/none?host=/nowhere"};
  CHECK_FALSE(ear.listener->hears());
  CHECK(ear.times == 0);
}

}  // namespace
}  // namespace loadlight::store
