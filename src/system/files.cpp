#include "loadlight/system/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>

#include "atomic_write.h"
#include "descriptor.h"

namespace loadlight::system {
namespace {

core::Result<void> read_in_chunks(const std::string& path,
                                  const std::function<bool(const port::Files::Chunk&)>& take) {
  const Descriptor file{::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
  if (!file.open()) return unreadable(path, errno);
  struct stat held {};
  const bool sized = ::fstat(file.number(), &held) == 0 && S_ISREG(held.st_mode);
  std::string bytes(256 << 10, '\0');
  port::Files::Chunk chunk{{}, 0, sized ? static_cast<std::uint64_t>(held.st_size) : 0};
  for (;;) {
    const ssize_t got = ::read(file.number(), bytes.data(), bytes.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return unreadable(path, errno);
    if (got == 0) return {};
    chunk.bytes = std::string_view{bytes}.substr(0, static_cast<std::size_t>(got));
    if (!take(chunk)) return {};
    chunk.before += static_cast<std::uint64_t>(got);
  }
}

// 0, or the errno value that says why `path` may not be replaced: devices, folders and files that this
// user may not write stay what they are.
int refusal(const std::string& path) {
  struct stat held {};
  if (::stat(path.c_str(), &held) != 0) return errno == ENOENT ? 0 : errno;
  if (S_ISDIR(held.st_mode)) return EISDIR;
  if (!S_ISREG(held.st_mode)) return EINVAL;
  return ::access(path.c_str(), W_OK) == 0 ? 0 : errno;
}

class SystemFiles final : public port::Files {
 public:
  core::Result<std::string> read(const std::string& path, std::size_t limit) const override {
    return read_whole_file(path, limit);
  }
  core::Result<void> each_chunk(const std::string& path,
                                const std::function<bool(const Chunk&)>& take) const override {
    return read_in_chunks(path, take);
  }
  core::Result<void> write(const std::string& path, std::string_view bytes) const override {
    return write_file_atomically(path, bytes);
  }
  void take_back(const std::string& path) const override {
    std::error_code unresolved;
    const auto target = std::filesystem::weakly_canonical(path, unresolved);  // a link stays a link
    if (!unresolved && refusal(path) == 0) ::unlink(target.c_str());
  }
};

// Appends what `file` still holds to `bytes`, up to `limit` + 1 bytes in all; 0 or an errno value.
int read_all(int file, std::size_t limit, std::string& bytes) {
  constexpr std::size_t kStep = 64 << 10;
  std::size_t held = 0;
  while (held <= limit) {
    bytes.resize(held + std::min(kStep, limit + 1 - held));
    const ssize_t got = ::read(file, bytes.data() + held, bytes.size() - held);
    if (got < 0 && errno == EINTR) continue;
    bytes.resize(held + static_cast<std::size_t>(std::max<ssize_t>(got, 0)));
    if (got <= 0) return got < 0 ? errno : 0;
    held = bytes.size();
  }
  return 0;
}

int write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t put = ::write(file, bytes.data(), bytes.size());
    if (put < 0 && errno != EINTR) return errno;
    if (put > 0) bytes.remove_prefix(static_cast<std::size_t>(put));
  }
  return 0;
}

// A new file beside `path`, which goes away unless it is put in its place.
class NewFile final {
 public:
  NewFile(std::filesystem::path target, mode_t mode)
      : target_(std::move(target)), path_(target_.parent_path() / name()), file_(create(mode)) {}
  ~NewFile() {
    if (!path_.empty() && error_ == 0) ::unlink(path_.c_str());
  }
  NewFile(const NewFile&) = delete;
  NewFile& operator=(const NewFile&) = delete;

  int error() const { return error_; }  // of creating it, 0 if it exists

  // Each 0 or an errno value.
  int fill(std::string_view bytes) {
    if (const int error = write_all(file_.number(), bytes); error != 0) return error;
    if (::fsync(file_.number()) != 0) return errno;
    return file_.close() ? 0 : errno;
  }
  int put_in_place() {
    const bool replaces = ::access(target_.c_str(), F_OK) == 0;
    if (::rename(path_.c_str(), target_.c_str()) != 0) return errno;
    path_.clear();
    const int error = sync_name(target_.string());
    if (error != 0 && !replaces) ::unlink(target_.c_str());
    return error;
  }

 private:
  static std::string name() {
    static unsigned made = 0;
    return ".loadlight-" + std::to_string(::getpid()) + "-" + std::to_string(++made);
  }

  int create(mode_t mode) {
    ::unlink(path_.c_str());  // left over from a process of the same number that was killed
    const int file = ::open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    error_ = file < 0 ? errno : 0;
    return file;
  }

  std::filesystem::path target_;
  std::filesystem::path path_;  // empty once it is in place
  int error_ = 0;
  Descriptor file_;
};

}  // namespace

std::unique_ptr<port::Files> make_files() {
  return std::make_unique<SystemFiles>();
}

core::Result<std::string> read_whole_file(const std::string& path, std::size_t limit) {
  const Descriptor file{::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
  if (!file.open()) return unreadable(path, errno);
  std::string bytes;
  if (const int error = read_all(file.number(), limit, bytes); error != 0) return unreadable(path, error);
  if (bytes.size() > limit) return unreadable(path, EFBIG);
  return bytes;
}

core::Result<void> write_file_atomically(const std::string& path, std::string_view bytes) {
  return write_atomically(path, bytes, kOwnerOnly);
}

int sync_name(const std::string& path) {
  const std::filesystem::path parent = std::filesystem::path{path}.parent_path();
  const std::string folder = parent.empty() ? "." : parent.string();
  const Descriptor held{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
  if (!held.open()) return errno;
  const bool done = ::fsync(held.number()) == 0 || errno == EINVAL;  // EINVAL: it cannot be, there
  return done ? 0 : errno;
}

core::Result<void> write_atomically(const std::string& path, std::string_view bytes, mode_t mode) {
  if (const int error = refusal(path); error != 0) return unwritable(path, error);
  std::error_code unresolved;
  const auto target = std::filesystem::weakly_canonical(path, unresolved);  // a link stays a link
  if (unresolved) return unwritable(path, unresolved.value());
  NewFile file{target, mode};
  if (file.error() != 0) return unwritable(path, file.error());
  if (const int error = file.fill(bytes); error != 0) return unwritable(path, error);
  if (const int error = file.put_in_place(); error != 0) return unwritable(path, error);
  return {};
}

}  // namespace loadlight::system
