#include "loadlight/system/new_files.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <filesystem>

#include "atomic_write.h"
#include "descriptor.h"

namespace loadlight::system {
namespace {

namespace fs = std::filesystem;
using core::Result;

constexpr std::string_view kDraft = ".loadlight-draft-";

core::Failure exists(const std::string& path) {
  return {core::FailureCode::FileExists, {{"path", path}}, {}};
}

bool is_there(const std::string& path) {
  struct stat held {};
  return ::lstat(path.c_str(), &held) == 0;
}

std::string folder_of(const std::string& path) {
  const auto folder = fs::path{path}.parent_path();
  return folder.empty() ? "." : folder.string();
}

int sync_folder(const std::string& folder) {
  const Descriptor held{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
  if (!held.open()) return errno;
  return ::fsync(held.number()) == 0 || errno == EINVAL ? 0 : errno;  // EINVAL: it cannot be, there
}

// What processes left that were killed; those that are still at work keep theirs.
void clear_drafts(const std::string& folder) {
  std::error_code error, unremoved;
  for (fs::directory_iterator entry{folder, error}, end; !error && entry != end; entry.increment(error)) {
    const std::string name = entry->path().filename();
    if (!name.starts_with(kDraft)) continue;
    const int maker = std::atoi(name.c_str() + kDraft.size());
    if (maker > 0 && ::kill(maker, 0) != 0 && errno == ESRCH) fs::remove_all(entry->path(), unremoved);
  }
}

std::string draft_for(const std::string& path) {
  static std::atomic<unsigned> made = 0;
  const std::string folder = folder_of(path);
  clear_drafts(folder);
  return folder + "/" + std::string{kDraft} + std::to_string(::getpid()) + "-" + std::to_string(++made);
}

// Where a disk cannot rename without replacing (EINVAL), after a look.
int rename_to_free(const std::string& from, const std::string& to) {
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return 0;
  if (errno != EINVAL && errno != ENOSYS) return errno;
  if (is_there(to)) return EEXIST;
  return ::rename(from.c_str(), to.c_str()) == 0 ? 0 : errno;
}

class DraftFile final : public port::NewFile {
 public:
  DraftFile(std::string path, std::string draft, int number)
      : path_(std::move(path)), draft_(std::move(draft)), file_(number) {}
  ~DraftFile() override {
    if (!draft_.empty()) ::unlink(draft_.c_str());
  }

  Result<void> append(std::string_view bytes) override {
    while (!bytes.empty()) {
      const ssize_t put = ::write(file_.number(), bytes.data(), bytes.size());
      if (put < 0 && errno == EINTR) continue;
      if (put < 0) return unwritable(path_, errno);
      bytes.remove_prefix(static_cast<std::size_t>(put));
    }
    return {};
  }

  Result<void> put_in_place() override {
    if (::fsync(file_.number()) != 0 || !file_.close()) return unwritable(path_, errno);
    const int error = rename_to_free(draft_, path_);
    if (error == EEXIST) return exists(path_);
    if (error != 0) return unwritable(path_, error);
    draft_.clear();
    const int unsynced = sync_folder(folder_of(path_));
    if (unsynced == 0) return {};
    take_back();
    return unwritable(path_, unsynced);
  }

  void take_back() override { ::unlink(path_.c_str()); }

 private:
  std::string path_;
  std::string draft_;  // empty once it is in place
  Descriptor file_;
};

class DraftFolder final : public port::NewFolder {
 public:
  DraftFolder(std::string place, std::string draft) : place_(std::move(place)), draft_(std::move(draft)) {}
  ~DraftFolder() override {
    std::error_code ignored;
    if (!draft_.empty()) fs::remove_all(draft_, ignored);
  }

  const std::string& path() const override { return draft_; }

  // An empty folder gives way to it; one with anything in it never does.
  Result<void> put_in_place() override {
    if (const int error = sync_folder(draft_); error != 0) return unwritable(place_, error);
    if (::rename(draft_.c_str(), place_.c_str()) != 0) {
      const bool taken = errno == EEXIST || errno == ENOTEMPTY || errno == ENOTDIR;
      return taken ? exists(place_) : unwritable(place_, errno);
    }
    draft_.clear();
    if (const int error = sync_folder(folder_of(place_)); error != 0) return unwritable(place_, error);
    return {};
  }

 private:
  std::string place_;
  std::string draft_;  // empty once it is in place
};

}  // namespace

Result<std::unique_ptr<port::NewFile>> make_new_file(const std::string& path) {
  if (is_there(path)) return exists(path);
  std::string draft = draft_for(path);
  const int file = ::open(draft.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, kOwnerOnly);
  if (file < 0) return unwritable(path, errno);
  return std::unique_ptr<port::NewFile>{std::make_unique<DraftFile>(path, std::move(draft), file)};
}

Result<std::unique_ptr<port::NewFolder>> make_new_folder(const std::string& given) {
  std::string path = fs::path{given}.lexically_normal().string();
  while (path.size() > 1 && path.back() == '/') path.pop_back();
  std::error_code error;
  if (is_there(path) && !(fs::is_directory(path, error) && fs::is_empty(path, error) && !error)) return exists(path);
  fs::create_directories(folder_of(path), error);
  if (error) return unwritable(path, error.value());
  std::string draft = draft_for(path);
  if (::mkdir(draft.c_str(), S_IRWXU) != 0) return unwritable(path, errno);
  return std::unique_ptr<port::NewFolder>{std::make_unique<DraftFolder>(path, std::move(draft))};
}

}  // namespace loadlight::system
