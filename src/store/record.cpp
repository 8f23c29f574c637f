#include "loadlight/store/record.h"

#include <fcntl.h>
#include <stdio.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <utility>

#include "schema.h"
#include "schema_steps.h"
#include "sessions.h"
#include "sql_store.h"
#include "whereabouts.h"

namespace loadlight::store {
namespace {

using core::FailureCode;
using MadeStore = core::Result<std::unique_ptr<port::Store>>;

core::Failure failure(FailureCode code, const std::string& path, std::string why) {
  return {code, {{"path", path}, {"why", std::move(why)}}, {}};
}

std::string record_path(const std::string& folder) {
  return folder + "/record.db";
}

core::Failure failure_of_errno(const std::string& path, int error) {
  switch (error) {
    case EACCES:
    case EPERM:
    case EROFS:
      return failure(FailureCode::OfficeReadOnly, path, std::strerror(error));
    case ENOSPC:
    case EDQUOT:
      return failure(FailureCode::DiskFull, path, std::strerror(error));
    case EEXIST:
      return failure(FailureCode::OfficeExists, path, std::strerror(error));
    default:
      return failure(FailureCode::OfficeUnreadable, path, std::strerror(error));
  }
}

core::Result<void> must_be_folder(const std::string& folder) {
  std::error_code error;
  if (std::filesystem::is_directory(folder, error)) return {};
  const std::string why = error ? error.message() : "not a folder";
  const bool forbidden = error == std::errc::permission_denied;
  return failure(forbidden ? FailureCode::OfficeUnreadable : FailureCode::OfficeAbsent, folder, why);
}

bool may(const std::string& path, int rights) {
  return faccessat(AT_FDCWD, path.c_str(), rights, AT_EACCESS) == 0;
}

core::Result<void> must_be_writable_file(const std::string& folder, const std::string& path) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (status.type() == std::filesystem::file_type::not_found) {
    return failure(FailureCode::OfficeAbsent, path, "no such file");
  }
  if (!std::filesystem::is_regular_file(status)) {
    return failure(FailureCode::OfficeUnreadable, path, error ? error.message() : "not a file");
  }
  if (!may(path, R_OK)) return failure(FailureCode::OfficeUnreadable, path, std::strerror(errno));
  if (!may(path, W_OK)) return failure(FailureCode::OfficeReadOnly, path, std::strerror(errno));
  if (!may(folder, W_OK | X_OK)) return failure(FailureCode::OfficeReadOnly, folder, std::strerror(errno));
  return {};
}

core::Result<void> be_of_known_version(SqliteSession& session, const std::string& path) {
  const auto version = session.schema_version();
  if (!version) return version.failure();
  if (*version == kSchemaVersion) return {};
  if (*version >= kFirstSchema && *version < kSchemaVersion) return bring_up_to_date(session, path, *version);
  if (*version < kFirstSchema) {
    return failure(FailureCode::OfficeUnreadable, path, "not a record of this program");
  }
  auto newer = failure(FailureCode::OfficeNewer, path, "made by a later program");
  newer.details.emplace_back("found", std::to_string(*version));
  newer.details.emplace_back("known", std::to_string(kSchemaVersion));
  return newer;
}

// 0 or an errno value. EINVAL: folders need not be synced there.
int sync_names_in(const std::filesystem::path& folder) {
  const int opened = open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (opened < 0) return errno;
  const int error = fsync(opened) == 0 || errno == EINVAL ? 0 : errno;
  close(opened);
  return error;
}

// The names of the record, of its folder, which may be new, and of those above it, so that a power cut leaves
// them. Folders above that are not ours to open were there before.
int sync_way_to(const std::string& folder) {
  std::error_code unresolved;
  const auto whole = std::filesystem::canonical(folder, unresolved);
  if (unresolved) return unresolved.value();
  const int error = sync_names_in(whole);
  for (auto above = whole; error == 0 && above != above.parent_path();) {
    above = above.parent_path();
    if (const int failed = sync_names_in(above); failed != 0 && failed != EACCES) return failed;
  }
  return error;
}

core::Result<void> made_to_last(const std::string& folder) {
  const int error = sync_way_to(folder);
  if (error != 0) return failure_of_errno(folder, error);
  return {};
}

// The record under the name it has while it is being made; what is left of it when that fails.
class Draft final {
 public:
  explicit Draft(std::string path) : path_(std::move(path)) { remove(); }
  ~Draft() { remove(); }
  Draft(const Draft&) = delete;
  Draft& operator=(const Draft&) = delete;

  core::Result<void> make(std::chrono::milliseconds patience) const {
    if (auto made = make_private_file(); !made) return made;
    const auto session = SqliteSession::open(path_, patience);
    if (!session) return session.failure();
    if (auto made = create_schema(**session); !made) return made;
    return (*session)->allow_reading_while_writing();
  }

  // Never replaces a record that came into being meanwhile.
  core::Result<void> put_in_place(const std::string& folder, const std::string& path) const {
    if (renameat2(AT_FDCWD, path_.c_str(), AT_FDCWD, path.c_str(), RENAME_NOREPLACE) != 0) {
      return failure_of_errno(path, errno);
    }
    return made_to_last(folder);
  }

 private:
  core::Result<void> make_private_file() const {
    const int opened = open(path_.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
    if (opened < 0) return failure_of_errno(path_, errno);
    close(opened);
    return {};
  }
  void remove() const {
    for (const char* ending : {"", "-journal", "-wal", "-shm"}) unlink((path_ + ending).c_str());
  }

  std::string path_;
};

}  // namespace

MadeStore create_record(const std::string& office_folder, RecordOptions options) {
  if (auto checked = must_be_folder(office_folder); !checked) return checked.failure();
  const std::string path = record_path(office_folder);
  std::error_code error;
  if (std::filesystem::exists(std::filesystem::symlink_status(path, error))) {
    // It may be one whose making was cut off before this, and that is gone on with now.
    if (auto lasts = made_to_last(office_folder); !lasts) return lasts.failure();
    return failure(FailureCode::OfficeExists, path, "there is a record already");
  }
  const Draft draft{path + ".new"};
  if (auto made = draft.make(options.patience); !made) return made.failure();
  if (auto placed = draft.put_in_place(office_folder, path); !placed) return placed.failure();
  return open_record(office_folder, options);
}

core::Result<std::unique_ptr<SqliteSession>> open_record_session(const std::string& office_folder,
                                                                 std::chrono::milliseconds patience) {
  const std::string path = record_path(office_folder);
  if (auto checked = must_be_folder(office_folder); !checked) return checked.failure();
  if (auto checked = must_be_writable_file(office_folder, path); !checked) return checked.failure();
  auto session = SqliteSession::open(path, patience);
  if (!session) return session.failure();
  if (auto checked = be_of_known_version(**session, path); !checked) return checked.failure();
  return session;
}

MadeStore open_record(const std::string& office_folder, RecordOptions options) {
  const std::string path = record_path(office_folder);
  auto session = open_record_session(office_folder, options.patience);
  if (!session) return session.failure();
  if (auto here = must_be_here(**session); !here) return here.failure();
  auto pool = std::make_shared<SessionPool>(
      [path, patience = options.patience]() -> core::Result<std::unique_ptr<SqlSession>> {
        auto opened = SqliteSession::open(path, patience);
        if (!opened) return opened.failure();
        return std::unique_ptr<SqlSession>{std::move(*opened)};
      });
  pool->keep(std::move(*session));
  return std::unique_ptr<port::Store>{std::make_unique<SqlStore>(std::move(pool), options.patience, std::move(options.committed))};
}

core::Result<void> copy_record(const std::string& office_folder, const std::string& path, RecordOptions options) {
  if (auto opened = open_record(office_folder, options); !opened) return opened.failure();
  const auto session = SqliteSession::open(record_path(office_folder), options.patience);
  if (!session) return session.failure();
  const int file = open(path.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
  if (file < 0 && errno == EEXIST) return failure(FailureCode::FileExists, path, std::strerror(errno));
  if (file < 0) return failure_of_errno(path, errno);
  close(file);
  auto copied = (*session)->copy_into(path);
  if (!copied) unlink(path.c_str());
  return copied;
}

}  // namespace loadlight::store
