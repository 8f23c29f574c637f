#include "schema_steps.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>

#include "schema.h"
#include "sql_transaction.h"

namespace loadlight::store {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

struct Step final {
  int from = 0;  // to the version after it
  std::string_view sql;
};

// A step never changes what the ledger says. What it adds stands in the tables' shapes as well.
constexpr Step kSteps[] = {
    {2, "CREATE INDEX packages_by_location ON packages (state, location, process_date, id)"},
    {2, "CREATE INDEX packages_by_visit ON packages (visit)"},
    {3, "ALTER TABLE ledger ADD COLUMN chain TEXT NOT NULL DEFAULT ''"},
    {3, "ALTER TABLE ledger ADD COLUMN link INTEGER NOT NULL DEFAULT 0"},
    {3, "ALTER TABLE ledger_head RENAME TO ledger_head_before"},
    {3, "CREATE TABLE ledger_head (chain TEXT NOT NULL, sequence INTEGER NOT NULL, link INTEGER NOT NULL,"
        " hash TEXT NOT NULL, newest_at INTEGER, PRIMARY KEY (chain)) STRICT"},
    {3, "INSERT INTO ledger_head SELECT '', sequence, 0, hash, newest_at FROM ledger_head_before"},
    {3, "DROP TABLE ledger_head_before"},
    {4, "ALTER TABLE consumables RENAME TO consumables_before"},
    {4, "CREATE TABLE consumables (lot TEXT NOT NULL,"
        " kind TEXT NOT NULL CHECK (kind IN ('chemical', 'air-removal', 'biological', 'pouch')), name TEXT NOT NULL,"
        " expires INTEGER NOT NULL CHECK (expires BETWEEN 19000101 AND 99991231),"
        " retired_on INTEGER CHECK (retired_on BETWEEN 19000101 AND 99991231), PRIMARY KEY (lot)) STRICT"},
    {4, "INSERT INTO consumables SELECT lot, kind, name, expires, retired_on FROM consumables_before"},
    {4, "DROP TABLE consumables_before"},
    {4, "ALTER TABLE incidents RENAME TO incidents_before"},
    {4, "CREATE TABLE incidents (number INTEGER NOT NULL, cause TEXT NOT NULL CHECK (cause IN ('internal-indicator',"
        " 'biological-positive', 'faulty-indicator', 'faulty-pouch')),"
        " state TEXT NOT NULL CHECK (state IN ('open', 'closed')),"
        " sterilizer TEXT NOT NULL REFERENCES sterilizers DEFERRABLE INITIALLY DEFERRED, load_number INTEGER NOT NULL,"
        " first_run INTEGER NOT NULL, last_run INTEGER NOT NULL, program TEXT,"
        " procedure TEXT NOT NULL CHECK (procedure IN ('dental-2003', 'facility-2008', 'conservative')),"
        " profile TEXT NOT NULL, recall TEXT NOT NULL CHECK (recall IN ('nothing', 'implants', 'everything')),"
        " sterilizer_held INTEGER NOT NULL CHECK (sterilizer_held IN (0, 1)), narrowed_why TEXT NOT NULL,"
        " opened_by TEXT NOT NULL REFERENCES operators DEFERRABLE INITIALLY DEFERRED, opened_at INTEGER NOT NULL,"
        " closed_by TEXT NOT NULL, closed_at INTEGER, note TEXT NOT NULL, PRIMARY KEY (number)) STRICT"},
    {4, "INSERT INTO incidents SELECT number, cause, state, sterilizer, load_number, first_run, last_run, program,"
        " procedure, profile, recall, sterilizer_held, narrowed_why, opened_by, opened_at, closed_by, closed_at, note"
        " FROM incidents_before"},
    {4, "DROP TABLE incidents_before"},
    {4, "CREATE INDEX incidents_by_state ON incidents (state, number)"},
    {4, "CREATE TABLE whereabouts (only_row INTEGER NOT NULL CHECK (only_row = 1), state TEXT NOT NULL"
        " CHECK (state IN ('here', 'moved', 'arriving')), place TEXT NOT NULL, PRIMARY KEY (only_row)) STRICT"},
    {5, "CREATE INDEX loads_by_emergency ON loads (state, emergency_reason, sterilizer, number)"},
};

Failure unwritable(const std::string& path, int error) {
  const bool full = error == ENOSPC || error == EDQUOT;
  return {full ? FailureCode::DiskFull : FailureCode::FileUnwritable,
          {{"path", path}, {"why", std::strerror(error)}},
          {}};
}

Result<void> make_private(const std::string& path) {
  ::unlink(path.c_str());  // what a step that was cut off left
  const int opened = ::open(path.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
  if (opened < 0) return unwritable(path, errno);
  ::close(opened);
  return {};
}

// A copy of an earlier, cut-off step stays: it is of the same version.
Result<void> keep_copy(SqliteSession& session, const std::string& record_path, int version) {
  const std::string kept = kept_record_path(record_path, version);
  std::error_code error;
  if (std::filesystem::exists(kept, error)) return {};
  const std::string draft = kept + "." + std::to_string(::getpid());
  if (auto made = make_private(draft); !made) return made;
  if (auto copied = session.copy_into(draft); !copied) {
    ::unlink(draft.c_str());
    return copied;
  }
  if (::rename(draft.c_str(), kept.c_str()) != 0) return unwritable(kept, errno);
  return {};
}

Result<void> take_steps(SqliteSession& session) {
  auto transaction = SqlTransaction::begin(session, port::Access::Write);
  if (!transaction) return transaction.failure();
  const auto version = session.schema_version();
  if (!version) return version.failure();
  if (*version >= kSchemaVersion) return {};
  for (const Step& step : kSteps) {
    if (step.from < *version) continue;
    if (auto taken = session.run(step.sql); !taken) return taken;
  }
  if (auto marked = session.mark_as_record(kSchemaVersion); !marked) return marked;
  return transaction->commit();
}

}  // namespace

std::string kept_record_path(const std::string& record_path, int version) {
  return record_path + ".version-" + std::to_string(version);
}

Result<void> bring_up_to_date(SqliteSession& session, const std::string& record_path, int version) {
  if (auto kept = keep_copy(session, record_path, version); !kept) return kept;
  // A table that is put in another's place keeps the references that others have to it.
  if (auto set = session.run("PRAGMA foreign_keys = OFF"); !set) return set;
  if (auto set = session.run("PRAGMA legacy_alter_table = ON"); !set) return set;
  const auto taken = take_steps(session);
  if (auto set = session.run("PRAGMA legacy_alter_table = OFF"); !set) return set;
  if (auto set = session.run("PRAGMA foreign_keys = ON"); !set) return set;
  return taken;
}

}  // namespace loadlight::store
