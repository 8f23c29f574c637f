#include <catch2/catch.hpp>
#include <filesystem>

#include "child.h"
#include "loadlight/store/record.h"
#include "store/schema.h"
#include "store/sqlite_session.h"
#include "store/sql_transaction.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

using core::EventKind;
using core::FailureCode;

// "disk-full, then whole with N packages": until the disk is full, a unit of many packages each.
std::string fill_disk(const std::string& folder) {
  const auto store = must(create_record(folder));
  write(*store, {founding()});
  int written = 0;
  std::string why = "never full";
  for (int n = 1; n < 100000; n += 50) {
    std::vector<core::Record> packages;
    for (int i = 0; i < 50; ++i) packages.push_back(a_package(n + i));
    const auto unit = store->begin(port::Access::Write);
    auto done = unit ? (*unit)->write(a_change(EventKind::LabelsPrinted, n, packages)) : unit.failure();
    if (done) done = (*unit)->commit();
    if (!done) {
      why = core::to_text(done.failure().code);
      break;
    }
    written += 50;
  }
  int held = 0;
  must(reading(*store)->packages().each([&](const core::Package&) { ++held; }));
  const bool whole = must(store->verify()).empty();
  return why + (whole ? ", whole" : ", altered") +
         (held == written && held > 0 ? ", nothing lost" : ", lost");
}

TEST_CASE("When the disk fills a unit fails as a whole, and all before it stays") {
  const TemporaryFolder folder;
  const auto said = on_small_disk(folder.path(), 3000, [&] { return fill_disk(folder.path()); });
  if (!said) WARN("not tested: this machine does not let us mount a small disk");
  CHECK(said.value_or("disk-full, whole, nothing lost") == "disk-full, whole, nothing lost");
}

TEST_CASE("On a full disk no office is made, and nothing of it remains") {
  const TemporaryFolder folder;
  for (const int kilobytes : {4, 8, 40, 80, 120}) {
    const auto said = on_small_disk(folder.path(), kilobytes, [&] {
      const auto made = create_record(folder.path());
      const bool empty = std::filesystem::is_empty(folder.path());
      return std::string{made ? "ok" : core::to_text(made.failure().code)} +
             (empty ? ", empty" : ", remains");
    });
    if (!said) WARN("not tested: this machine does not let us mount a small disk");
    CAPTURE(kilobytes);
    CHECK(said.value_or("disk-full, empty") == "disk-full, empty");
  }
}

// SQLite reports a database that may not grow as it reports a full disk.
TEST_CASE("A database that may not grow fails as a full disk does") {
  const TemporaryFolder folder;
  must(create_record(folder.path()));
  const auto session = must(SqliteSession::open(folder.record(), std::chrono::milliseconds{50}));
  must(session->run("PRAGMA max_page_count = 1"));
  auto transaction = must(SqlTransaction::begin(*session, port::Access::Write));
  core::Result<void> written;
  for (int i = 0; written && i < 10000; ++i) {
    written = session->run(table_of<core::Location>().shape().insert_sql(),
                           {"L" + std::to_string(i), std::string(1000, 'x'), SqlValue{}});
  }
  CHECK(written.failure().code == FailureCode::DiskFull);
  CHECK_FALSE(transaction.commit());
  CHECK(must(session->rows("SELECT code FROM locations")).empty());
}

}  // namespace
}  // namespace loadlight::store
