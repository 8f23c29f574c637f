#include "loadlight/store/record.h"

#include <sys/stat.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <random>

#include "child.h"
#include "full_office.h"
#include "raw_sql.h"
#include "store/schema.h"
#include "store/schema_steps.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

namespace fs = std::filesystem;
using core::FailureCode;
using Opened = core::Result<std::unique_ptr<port::Store>>;

std::string said_by(const Opened& opened) {
  return opened ? "ok" : std::string{core::to_text(opened.failure().code)};
}
std::string opening(const std::string& folder) {
  return said_by(open_record(folder, {std::chrono::milliseconds{50}}));
}
std::string creating(const std::string& folder) {
  return said_by(create_record(folder));
}

void put(const std::string& path, const std::string& bytes) {
  std::ofstream{path, std::ios::binary} << bytes;
}

std::string random_bytes(std::size_t count) {
  std::mt19937 random{7};
  std::string bytes(count, '\0');
  for (char& byte : bytes) byte = static_cast<char>(random());
  return bytes;
}

std::string permissions(const std::string& path) {
  struct stat status {};
  if (stat(path.c_str(), &status) != 0) return "absent";
  std::string octal(3, '0');
  for (unsigned i = 0; i < 3; ++i) octal[2 - i] = static_cast<char>('0' + (status.st_mode >> 3 * i & 7));
  return octal;
}

bool is_empty(const std::string& folder) {
  return fs::is_empty(folder);
}

TEST_CASE("Without a folder or a record in it the office is absent") {
  const TemporaryFolder folder;
  CHECK(opening(folder.file("none")) == "office-absent");
  CHECK(creating(folder.file("none")) == "office-absent");
  CHECK(opening(folder.path()) == "office-absent");
  CHECK(is_empty(folder.path()));
}

TEST_CASE("A new record is its owner's alone, and so is what the engine lays beside it") {
  const TemporaryFolder folder;
  const auto store = must(create_record(folder.path()));
  write(*store, {founding()});
  CHECK(permissions(folder.record()) == "600");
  CHECK(permissions(folder.record() + "-wal") == "600");
  CHECK(permissions(folder.record() + "-shm") == "600");
}

TEST_CASE("A record closed is one file, and opens with all that was in it") {
  const TemporaryFolder folder;
  fill(*must(create_record(folder.path())));
  CHECK(std::distance(fs::directory_iterator{folder.path()}, {}) == 1);
  const auto store = must(open_record(folder.path()));
  CHECK(must(reading(*store)->office()) == an_office());
  CHECK(ledger_of(*store).size() == 7);
}

TEST_CASE("What was committed is there when the program ended without closing, and what was not is not") {
  const TemporaryFolder folder;
  const auto store = must(create_record(folder.path()));
  write(*store, {founding()});
  const auto unfinished = writing(*store);
  must(unfinished->write(a_change(core::EventKind::LabelsPrinted, 1, {a_package(1)})));
  const TemporaryFolder after;
  fs::copy_file(folder.record(), after.record());
  fs::copy_file(folder.record() + "-wal", after.record() + "-wal");
  const auto opened = must(open_record(after.path()));
  CHECK(must(reading(*opened)->office()) == an_office());
  CHECK_FALSE(must(reading(*opened)->packages().find(package_id(1))));
  CHECK(must(opened->verify()).empty());
}

TEST_CASE("A record is never made over another, nor over anything of its name") {
  const TemporaryFolder folder;
  SECTION("a record") {
    write(*must(create_record(folder.path())), {founding()});
    CHECK(creating(folder.path()) == "office-exists");
    CHECK(must(reading(*must(open_record(folder.path())))->office()) == an_office());
  }
  SECTION("a folder") {
    fs::create_directory(folder.record());
  }
  SECTION("a link to nowhere") {
    fs::create_symlink("nowhere", folder.record());
  }
  CHECK(creating(folder.path()) == "office-exists");
}

TEST_CASE("What a crash left of an office half made does not hinder making it") {
  const TemporaryFolder folder;
  put(folder.record() + ".new", "half");
  put(folder.record() + ".new-journal", "half");
  CHECK(creating(folder.path()) == "ok");
  CHECK_FALSE(fs::exists(folder.record() + ".new"));
}

TEST_CASE("What is no record of ours is unreadable, and stays as it was") {
  const TemporaryFolder folder;
  const std::string bytes = GENERATE(std::string{}, std::string{"x"}, std::string(4096, '\0'),
                                     std::string{"not a database\n"}, random_bytes(100), random_bytes(50000));
  put(folder.record(), bytes);
  CHECK(opening(folder.path()) == "office-unreadable");
  CHECK(fs::file_size(folder.record()) == bytes.size());
}

TEST_CASE("Another program's database is unreadable") {
  const TemporaryFolder folder;
  put(folder.record(), "");
  RawSql{folder.record()}.run("CREATE TABLE packages (id TEXT); PRAGMA user_version = 2");
  CHECK(opening(folder.path()) == "office-unreadable");
}

TEST_CASE("A folder in the record's place is unreadable") {
  const TemporaryFolder folder;
  fs::create_directory(folder.record());
  CHECK(opening(folder.path()) == "office-unreadable");
}

TEST_CASE("A record of a later program is refused with both versions named") {
  const TemporaryFolder folder;
  must(create_record(folder.path()));
  RawSql{folder.record()}.run("PRAGMA user_version = 7");
  const auto opened = open_record(folder.path());
  REQUIRE(opened.failure().code == FailureCode::OfficeNewer);
  CHECK(opened.failure().details ==
        core::Details{
            {"path", folder.record()}, {"why", "made by a later program"}, {"found", "7"}, {"known", std::to_string(kSchemaVersion)}});
}

// As earlier programs left it.
void make_version_4(const std::string& path) {
  RawSql{path}.run(
      "PRAGMA foreign_keys = OFF; PRAGMA legacy_alter_table = ON;"
      "ALTER TABLE consumables RENAME TO later;"
      "CREATE TABLE consumables (lot TEXT NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('chemical', 'air-removal',"
      " 'biological')), name TEXT NOT NULL, expires INTEGER NOT NULL CHECK (expires BETWEEN 19000101 AND 99991231),"
      " retired_on INTEGER CHECK (retired_on BETWEEN 19000101 AND 99991231), PRIMARY KEY (lot)) STRICT;"
      "INSERT INTO consumables SELECT * FROM later; DROP TABLE later; DROP TABLE IF EXISTS whereabouts;"
      "DROP INDEX loads_by_emergency; PRAGMA user_version = 4");
}

void make_version_3(const std::string& path) {
  make_version_4(path);
  RawSql{path}.run(
      "ALTER TABLE ledger DROP COLUMN chain; ALTER TABLE ledger DROP COLUMN link;"
      "ALTER TABLE ledger_head RENAME TO later;"
      "CREATE TABLE ledger_head (only_row INTEGER NOT NULL CHECK (only_row = 1), sequence INTEGER NOT NULL,"
      " hash TEXT NOT NULL, newest_at INTEGER, PRIMARY KEY (only_row)) STRICT;"
      "INSERT INTO ledger_head SELECT 1, sequence, hash, newest_at FROM later;"
      "DROP TABLE later; PRAGMA user_version = 3");
}

void make_version_2(const std::string& path) {
  make_version_3(path);
  RawSql{path}.run(
      "DROP INDEX packages_by_location; DROP INDEX packages_by_visit; PRAGMA user_version = 2");
}

TEST_CASE("A record of the version before is brought up to date and a copy is kept") {
  const FullOffice office;
  make_version_2(office.record());
  const std::string kept = kept_record_path(office.record(), 2);
  const auto store = must(open_record(office.path()));
  CHECK(must(store->verify()).empty());
  CHECK(RawSql{office.record()}.value("PRAGMA user_version") == std::to_string(kSchemaVersion));
  CHECK(RawSql{office.record()}.value("SELECT count(*) FROM sqlite_master WHERE name = 'packages_by_location'") ==
        "1");
  CHECK(RawSql{kept}.value("PRAGMA user_version") == "2");
  CHECK(RawSql{kept}.value("SELECT count(*) FROM ledger") ==
        RawSql{office.record()}.value("SELECT count(*) FROM ledger"));
  CHECK((fs::status(kept).permissions() & fs::perms::all) == (fs::perms::owner_read | fs::perms::owner_write));
  CHECK(opening(office.path()) == "ok");  // and stays so
}

TEST_CASE("A ledger of one chain without a name goes on as it was") {
  const FullOffice office;
  make_version_3(office.record());
  const auto store = must(open_record(office.path()));
  write(*store, {a_change(core::EventKind::PackageChecked, 90)});
  CHECK(must(store->verify()).empty());
  CHECK(ledger_of(*store).back().chain.empty());
}

TEST_CASE("A record that cannot be brought up to date stays as it was") {
  const FullOffice office;
  make_version_2(office.record());
  RawSql{office.record()}.run("CREATE INDEX packages_by_visit ON packages (visit)");  // in the step's way
  CHECK(opening(office.path()) != "ok");
  CHECK(RawSql{office.record()}.value("PRAGMA user_version") == "2");
  CHECK(RawSql{office.record()}.value("SELECT count(*) FROM sqlite_master WHERE name = 'packages_by_location'") ==
        "0");
}

TEST_CASE("A record cut short anywhere is refused or found damaged, never taken for whole") {
  const FullOffice office;
  const auto size = fs::file_size(office.record());
  for (std::uintmax_t length = 1; length < size; length += 1013) {
    INFO(length << " of " << size << " bytes");
    const TemporaryFolder copy;
    fs::copy_file(office.record(), copy.record());
    fs::resize_file(copy.record(), length);
    const auto opened = open_record(copy.path());
    if (!opened) {
      CHECK_THAT(said_by(opened), Catch::Equals("office-unreadable") || Catch::Equals("record-damaged"));
    } else {
      const auto found = (*opened)->verify();
      CHECK((!found || !found->empty()));
    }
  }
}

// Everything that a reader of the record can be told.
std::string all_rows(const std::string& path) {
  RawSql raw{path};
  std::string all;
  for (const auto& table : raw.rows("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")) {
    for (const auto& row : raw.rows("SELECT * FROM " + table[0])) {
      for (const auto& value : row) all += value + "|";
    }
  }
  return all;
}

// True iff verification or opening finds the byte flipped, or nobody who reads the record can tell.
bool found_or_harmless(const FullOffice& office, const std::string& before, std::uintmax_t offset,
                       char mask) {
  const TemporaryFolder copy;
  fs::copy_file(office.record(), copy.record());
  {
    std::fstream file{copy.record(), std::ios::in | std::ios::out | std::ios::binary};
    file.seekg(static_cast<std::streamoff>(offset));
    const char byte = static_cast<char>(file.get() ^ mask);
    file.seekp(static_cast<std::streamoff>(offset));
    file.put(byte);
  }
  const auto opened = open_record(copy.path());
  if (!opened) return true;
  const auto found = (*opened)->verify();
  return !found || !found->empty() || all_rows(copy.record()) == before;
}

TEST_CASE("One flipped byte of the file is found, or changes nothing that is read") {
  const FullOffice office;
  const std::string before = all_rows(office.record());
  const auto size = fs::file_size(office.record());
  std::mt19937 random{11};
  for (int i = 0; i < 500; ++i) {
    const auto offset = std::uniform_int_distribution<std::uintmax_t>{0, size - 1}(random);
    const char mask = static_cast<char>(1U << (random() % 8));
    INFO("offset " << offset << " mask " << static_cast<int>(mask));
    CHECK(found_or_harmless(office, before, offset, mask));
  }
}

TEST_CASE("Another program's write lock makes a writing unit busy and a reading one none") {
  const TemporaryFolder folder;
  write(*must(create_record(folder.path())), {founding()});
  const auto store = must(open_record(folder.path(), {std::chrono::milliseconds{50}}));
  RawSql other{folder.record()};
  other.run("BEGIN IMMEDIATE");
  CHECK(store->begin(port::Access::Write).failure().code == FailureCode::OfficeBusy);
  CHECK(must(reading(*store)->office()) == an_office());
  other.run("ROLLBACK");
  CHECK(must(writing(*store)->office()) == an_office());
}

TEST_CASE("A record that another program keeps to itself is busy") {
  const TemporaryFolder folder;
  must(create_record(folder.path()));
  RawSql other{folder.record()};
  other.run("PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE");
  CHECK(opening(folder.path()) == "office-busy");
}

TEST_CASE("Without the right to write the record is read-only, and nothing of a new one remains") {
  const TemporaryFolder folder;
  must(create_record(folder.path()));
  const TemporaryFolder empty;
  chmod(empty.path().c_str(), 0555);
  const auto said = [&](mode_t folder_mode, mode_t file_mode) {
    chmod(folder.path().c_str(), folder_mode);
    chmod(folder.record().c_str(), file_mode);
    return as_nobody([&] { return opening(folder.path()) + " " + creating(empty.path()); })
        .value_or("no child");
  };
  CHECK(said(0777, 0444) == "office-read-only office-read-only");
  CHECK(said(0555, 0666) == "office-read-only office-read-only");
  CHECK(said(0777, 0000) == "office-unreadable office-read-only");
  CHECK(said(0000, 0666) == "office-unreadable office-read-only");
  CHECK(is_empty(empty.path()));
  CHECK(said(0777, 0666) == "ok office-read-only");
  chmod(folder.path().c_str(), 0700);
}

}  // namespace
}  // namespace loadlight::store
