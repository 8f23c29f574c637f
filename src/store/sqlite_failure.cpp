#include "sqlite_failure.h"

#include <sqlite3.h>

#include <cerrno>
#include <string>

namespace loadlight::store {
namespace {

using core::FailureCode;

bool disk_is_full(sqlite3* database) {
  const int cause = sqlite3_system_errno(database);
  return cause == ENOSPC || cause == EDQUOT;
}

FailureCode code_for(sqlite3* database) {
  switch (sqlite3_errcode(database) & 0xFF) {  // without the extension
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:  // gave up waiting while others opened the record
      return FailureCode::OfficeBusy;
    case SQLITE_READONLY:
      return FailureCode::OfficeReadOnly;
    case SQLITE_FULL:
      return FailureCode::DiskFull;
    case SQLITE_CORRUPT:
      return FailureCode::RecordDamaged;
    case SQLITE_IOERR:
    case SQLITE_CANTOPEN:
      return disk_is_full(database) ? FailureCode::DiskFull : FailureCode::OfficeUnreadable;
    case SQLITE_NOTADB:
    case SQLITE_PERM:
    case SQLITE_NOLFS:
      return FailureCode::OfficeUnreadable;
    default:  // a statement of ours that is wrong, or memory that has run out
      return FailureCode::Internal;
  }
}

}  // namespace

core::Failure latest_failure(sqlite3* database) {
  const char* path = sqlite3_db_filename(database, "main");
  return {code_for(database), {{"path", path ? path : ""}, {"why", sqlite3_errmsg(database)}}, {}};
}

}  // namespace loadlight::store
