#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "loadlight/store/record.h"
#include "sample_records.h"
#include "temporary_folder.h"

namespace loadlight::store {
namespace {

namespace fs = std::filesystem;

core::Change office_made() {
  core::Change change;
  change.kind = core::EventKind::OfficeMade;
  change.at = moment(0);
  change.records = {an_office()};
  return change;
}

void write(port::Store& store, const core::Change& change) {
  auto unit = store.begin(port::Access::Write);
  REQUIRE(unit);
  REQUIRE((*unit)->write(change));
  REQUIRE((*unit)->commit());
}

std::string copying(const std::string& folder, const std::string& path) {
  const auto copied = copy_record(folder, path, {std::chrono::milliseconds{50}});
  return copied ? "ok" : std::string{core::to_text(copied.failure().code)};
}

std::string office_in(const std::string& folder) {
  const auto store = open_record(folder);
  REQUIRE(store);
  CHECK((*store)->verify()->empty());
  const auto unit = (*store)->begin(port::Access::Read);
  REQUIRE(unit);
  const auto office = (*unit)->office();
  REQUIRE(office);
  return office->name;
}

TEST_CASE("A copy is a record of its own and its owner's alone") {
  const TemporaryFolder folder;
  const TemporaryFolder other;
  const auto store = create_record(folder.path());
  REQUIRE(store);
  write(**store, office_made());
  REQUIRE(copying(folder.path(), other.record()) == "ok");
  struct stat status {};
  REQUIRE(::stat(other.record().c_str(), &status) == 0);
  CHECK((status.st_mode & 0777) == 0600);
  CHECK(office_in(other.path()) == an_office().name);
}

TEST_CASE("A copy holds what was committed while another writes") {
  const TemporaryFolder folder;
  const TemporaryFolder other;
  const auto store = create_record(folder.path());
  REQUIRE(store);
  write(**store, office_made());
  auto unit = (*store)->begin(port::Access::Write);
  REQUIRE(unit);
  core::Change change;
  change.kind = core::EventKind::LocationAdded;
  change.at = moment(1);
  change.records = {a_location("CAB1")};
  REQUIRE((*unit)->write(change));
  REQUIRE(copying(folder.path(), other.record()) == "ok");
  const auto copy = open_record(other.path());
  REQUIRE(copy);
  const auto reading = (*copy)->begin(port::Access::Read);
  REQUIRE(reading);
  CHECK((*reading)->locations().all()->empty());
}

TEST_CASE("What is there is not overwritten and a failed copy leaves nothing") {
  const TemporaryFolder folder;
  CHECK(copying(folder.path(), folder.file("copy")) == "office-absent");
  const auto store = create_record(folder.path());
  REQUIRE(store);
  std::ofstream{folder.file("taken")} << "mine";
  CHECK(copying(folder.path(), folder.file("taken")) == "file-exists");
  CHECK(fs::file_size(folder.file("taken")) == 4);
  CHECK(copying(folder.path(), folder.file("none/copy")) != "ok");
  CHECK_FALSE(fs::exists(folder.file("copy")));
}

}  // namespace
}  // namespace loadlight::store
