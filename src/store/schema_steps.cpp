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
  return take_steps(session);
}

}  // namespace loadlight::store
