// A library for LD_PRELOAD: stands between a program and the system's calls for files, and fails, cuts short
// or dies at the call it is told to. It counts, times and fails only calls that touch one folder.
//
//   LOADLIGHT_FAULTS_FOLDER   the folder; without it nothing is changed
//   LOADLIGHT_FAULTS_TRACE    a file that is mapped, so that it tells of a killed process too: Trace
//   LOADLIGHT_FAULTS_JOURNAL  a file that takes every call that changed something: journal_entry()
//   LOADLIGHT_FAULTS_PLAN     "fail N ERRNO": the Nth call fails; "short N 0": it writes half;
//                             "dead N ERRNO": all fail from the Nth on; "full N ERRNO": those that need room;
//                             "kill N WHEN": the process dies before (0), amid (1: half written) or after (2)
//   LOADLIGHT_FAULTS_READS    reads count, and fail, too
#include <dlfcn.h>
#include <fcntl.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdarg>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <mutex>
#include <string>
#include <string_view>

namespace {

enum class Kind : std::uint32_t {
  Open,
  Write,
  Sync,
  Rename,
  Truncate,
  Unlink,
  Link,
  Folder,
  Allocate,
  Read,
  Close
};
enum class Phase : std::uint64_t { Outside, Transaction, Checkpoint, Making };
enum class File : std::uint8_t { None, Other, Database, Wal, Journal };

// Whole, as the reader of the trace knows it: ten numbers of 64 bits.
struct Trace final {
  std::uint64_t calls, failed, phase, commits, first_write, last_commit, opens, writes, syncs, renames;
};

struct Plan final {
  char what[8] = "";
  std::uint64_t at = 0;
  int how = 0;
  bool is(const char* name) const { return std::strcmp(what, name) == 0; }
};

struct State final {
  std::recursive_mutex alone;
  std::string folder;
  Plan plan;
  bool reads = false;
  bool commit_is_written = false;
  int journal = -1;
  Trace own{};
  Trace* trace = &own;
  File files[4096] = {};
};

// The system's own function of this name.
template <class Function>
Function real(const char* name) {
  return reinterpret_cast<Function>(dlsym(RTLD_NEXT, name));
}

int real_open(const char* path, int flags, mode_t mode) {
  static const auto call = real<int (*)(const char*, int, ...)>("open");
  return call(path, flags, mode);
}

ssize_t real_write(int file, const void* bytes, std::size_t size) {
  static const auto call = real<ssize_t (*)(int, const void*, std::size_t)>("write");
  return call(file, bytes, size);
}

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

Trace* mapped(const std::string& path) {
  const Trace none{};
  const int file = real_open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (file < 0 || real_write(file, &none, sizeof none) != sizeof none) return nullptr;
  void* memory = mmap(nullptr, sizeof(Trace), PROT_READ | PROT_WRITE, MAP_SHARED, file, 0);
  return memory == MAP_FAILED ? nullptr : static_cast<Trace*>(memory);
}

State* begun() {
  auto* state = new State;
  const std::string folder = variable("LOADLIGHT_FAULTS_FOLDER");
  state->reads = !variable("LOADLIGHT_FAULTS_READS").empty();
  unsigned long at = 0;
  std::sscanf(variable("LOADLIGHT_FAULTS_PLAN").c_str(), "%7s %lu %d", state->plan.what, &at,
              &state->plan.how);
  state->plan.at = at;
  const std::string trace = variable("LOADLIGHT_FAULTS_TRACE");
  if (Trace* there = trace.empty() ? nullptr : mapped(trace)) state->trace = there;
  const std::string journal = variable("LOADLIGHT_FAULTS_JOURNAL");
  if (!journal.empty()) {
    state->journal = real_open(journal.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
  }
  state->folder = folder;  // last: until now nothing is ours
  return state;
}

State& state() {
  static State* const one = begun();
  return *one;
}

bool is_ours(const char* path) {
  const std::string& folder = state().folder;
  const std::string_view given{path ? path : ""};
  return !folder.empty() && given.starts_with(folder) &&
         (given.size() == folder.size() || given[folder.size()] == '/');
}

File& kept(int number) {
  static File none;
  none = File::None;
  return number >= 0 && number < 4096 ? state().files[number] : none;
}

bool is_ours(int number) {
  return kept(number) != File::None;
}

File file_at(std::string_view path) {
  if (path.ends_with("-wal")) return File::Wal;
  if (path.ends_with("-journal")) return File::Journal;
  return path.ends_with("/record.db") ? File::Database : File::Other;
}

// What was done, for whoever plays it again: a head of seven numbers, then the paths, then the bytes.
struct Done final {
  Kind kind{};
  int file = -1;
  std::int64_t offset = 0;
  std::string_view path{};
  std::string_view second{};
  std::string_view bytes{};
};

void journal_entry(const Done& done) {
  if (state().journal < 0) return;
  const std::uint64_t head[] = {static_cast<std::uint64_t>(done.kind),
                                static_cast<std::uint64_t>(getpid()),
                                static_cast<std::uint64_t>(static_cast<std::int64_t>(done.file)),
                                static_cast<std::uint64_t>(done.offset),
                                done.path.size(),
                                done.second.size(),
                                done.bytes.size(),
                                state().trace->calls,
                                state().trace->phase};
  std::string entry{reinterpret_cast<const char*>(head), sizeof head};
  entry.append(done.path).append(done.second).append(done.bytes);
  (void)!real_write(state().journal, entry.data(), entry.size());
}

void enter(Phase phase) {
  Trace& trace = *state().trace;
  if (phase == Phase::Transaction && trace.phase != static_cast<std::uint64_t>(phase))
    trace.first_write = trace.calls;
  trace.phase = static_cast<std::uint64_t>(phase);
}

void committed() {
  Trace& trace = *state().trace;
  ++trace.commits;
  trace.last_commit = trace.calls;
  state().commit_is_written = false;
  enter(Phase::Outside);
}

// A frame of the write-ahead log has a head of 24 bytes; its second number is not zero in the frame that
// commits.
void note_write(File file, std::string_view bytes) {
  if (file == File::Journal) enter(Phase::Making);
  if (file == File::Database && state().trace->phase == 0) enter(Phase::Checkpoint);
  if (file != File::Wal) return;
  enter(Phase::Transaction);
  if (bytes.size() == 24 && bytes.substr(4, 4) != std::string_view{"\0\0\0\0", 4})
    state().commit_is_written = true;
}

void note_sync(File file) {
  if (file == File::Wal && state().commit_is_written) committed();
  if (file == File::Database && state().trace->phase == static_cast<std::uint64_t>(Phase::Checkpoint)) {
    enter(Phase::Outside);
  }
}

void count(Kind kind) {
  Trace& trace = *state().trace;
  ++trace.calls;
  trace.opens += kind == Kind::Open;
  trace.writes += kind == Kind::Write;
  trace.syncs += kind == Kind::Sync;
  trace.renames += kind == Kind::Rename;
}

void die_if(int when) {
  const Plan& plan = state().plan;
  if (plan.is("kill") && plan.at == state().trace->calls && plan.how == when) kill(getpid(), SIGKILL);
}

bool needs_room(Kind kind, bool makes) {
  return kind == Kind::Write || kind == Kind::Folder || kind == Kind::Link || kind == Kind::Allocate || makes;
}

bool fails(Kind kind, bool makes) {
  const Plan& plan = state().plan;
  const std::uint64_t call = state().trace->calls;
  const bool now = (plan.is("fail") && call == plan.at) || (plan.is("dead") && call >= plan.at) ||
                   (plan.is("full") && call >= plan.at && needs_room(kind, makes));
  if (!now) return false;
  ++state().trace->failed;
  errno = plan.how;
  return true;
}

// Every call of ours goes through here: counted, failed as planned, done, written down.
template <class Call, class Note>
auto through(Kind kind, bool makes, Call call, Note note) -> decltype(call()) {
  const std::lock_guard lock{state().alone};
  count(kind);
  die_if(0);
  if (fails(kind, makes)) return -1;
  const auto outcome = call();
  const int error = errno;
  if (outcome >= 0) note(outcome);
  die_if(2);
  errno = error;
  return outcome;
}

// A write, which may also end half way.
template <class Call>
ssize_t write_through(int file, const char* bytes, std::size_t size, std::int64_t offset, Call call) {
  const Plan& plan = state().plan;
  const auto put = [&]() -> ssize_t {
    const bool now = plan.at == state().trace->calls;
    if (now && plan.is("short")) ++state().trace->failed;
    const bool half = now && size > 1 && (plan.is("short") || (plan.is("kill") && plan.how == 1));
    return call(half ? size / 2 : size);
  };
  return through(Kind::Write, false, put, [&](ssize_t done) {
    const std::string_view written{bytes, static_cast<std::size_t>(done)};
    note_write(kept(file), written);
    journal_entry({Kind::Write, file, offset, {}, {}, written});
    die_if(1);
  });
}

bool is_there(const char* path) {
  struct stat held {};
  return lstat(path, &held) == 0;
}

template <class Call>
int open_through(const char* path, int flags, Call call) {
  if (!is_ours(path)) {
    const int file = call();
    if (file >= 0) kept(file) = File::None;
    return file;
  }
  const bool makes = (flags & O_CREAT) != 0 && !is_there(path);
  return through(Kind::Open, makes, call, [&](int file) {
    kept(file) = file_at(path);
    const char* how = makes ? "made" : (flags & O_TRUNC) != 0 ? "emptied" : "";
    journal_entry({Kind::Open, file, 0, path, how, {}});
  });
}

template <class Call>
ssize_t read_through(int file, Call call) {
  if (!state().reads || !is_ours(file)) return call();
  return through(Kind::Read, false, call, [&](ssize_t) { journal_entry({Kind::Read, file}); });
}

template <class Call>
int sync_through(int file, Call call) {
  if (!is_ours(file)) return call();
  return through(Kind::Sync, false, call, [&](int) {
    note_sync(kept(file));
    journal_entry({Kind::Sync, file});
  });
}

template <class Call>
int truncate_through(int file, off64_t size, Call call) {
  if (!is_ours(file)) return call();
  return through(Kind::Truncate, false, call, [&](int) { journal_entry({Kind::Truncate, file, size}); });
}

template <class Call>
int names_through(Kind kind, const char* from, const char* to, Call call) {
  if (!is_ours(from) && !is_ours(to)) return call();
  return through(kind, false, call, [&](int) {
    if (kind == Kind::Unlink && file_at(from) == File::Journal) committed();
    journal_entry({kind, -1, 0, from, to ? to : "", {}});
  });
}

mode_t mode_in(int flags, std::va_list arguments) {
  return (flags & (O_CREAT | O_TMPFILE)) != 0 ? va_arg(arguments, mode_t) : 0;
}

}  // namespace

#define LOADLIGHT_MODE(flags)                    \
  std::va_list arguments;                        \
  va_start(arguments, flags);                    \
  const mode_t mode = mode_in(flags, arguments); \
  va_end(arguments)

extern "C" {

int open(const char* path, int flags, ...) {
  LOADLIGHT_MODE(flags);
  return open_through(path, flags, [&] { return real_open(path, flags, mode); });
}

int open64(const char* path, int flags, ...) {
  LOADLIGHT_MODE(flags);
  return open_through(path, flags, [&] { return real_open(path, flags | O_LARGEFILE, mode); });
}

int openat(int folder, const char* path, int flags, ...) {
  LOADLIGHT_MODE(flags);
  static const auto call = real<int (*)(int, const char*, int, ...)>("openat");
  return open_through(path, flags, [&] { return call(folder, path, flags, mode); });
}

int openat64(int folder, const char* path, int flags, ...) {
  LOADLIGHT_MODE(flags);
  static const auto call = real<int (*)(int, const char*, int, ...)>("openat64");
  return open_through(path, flags, [&] { return call(folder, path, flags, mode); });
}

int creat(const char* path, mode_t mode) {
  const int flags = O_CREAT | O_WRONLY | O_TRUNC;
  return open_through(path, flags, [&] { return real_open(path, flags, mode); });
}

int close(int file) {
  static const auto call = real<int (*)(int)>("close");
  if (!is_ours(file)) return call(file);
  const std::lock_guard lock{state().alone};
  kept(file) = File::None;
  journal_entry({Kind::Close, file});
  return call(file);
}

ssize_t write(int file, const void* bytes, size_t size) {
  if (!is_ours(file)) return real_write(file, bytes, size);
  const bool appends = (fcntl(file, F_GETFL) & O_APPEND) != 0;
  const off64_t offset = lseek64(file, 0, appends ? SEEK_END : SEEK_CUR);
  return write_through(file, static_cast<const char*>(bytes), size, offset,
                       [&](std::size_t part) { return real_write(file, bytes, part); });
}

ssize_t pwrite64(int file, const void* bytes, size_t size, off64_t offset) {
  static const auto call = real<ssize_t (*)(int, const void*, std::size_t, off64_t)>("pwrite64");
  if (!is_ours(file)) return call(file, bytes, size, offset);
  return write_through(file, static_cast<const char*>(bytes), size, offset,
                       [&](std::size_t part) { return call(file, bytes, part, offset); });
}

ssize_t pwrite(int file, const void* bytes, size_t size, off_t offset) {
  return pwrite64(file, bytes, size, offset);
}

ssize_t writev(int file, const iovec* parts, int count) {
  static const auto call = real<ssize_t (*)(int, const iovec*, int)>("writev");
  if (!is_ours(file)) return call(file, parts, count);
  std::string bytes;
  for (int i = 0; i < count; ++i) bytes.append(static_cast<const char*>(parts[i].iov_base), parts[i].iov_len);
  return write(file, bytes.data(), bytes.size());
}

ssize_t read(int file, void* bytes, size_t size) {
  static const auto call = real<ssize_t (*)(int, void*, std::size_t)>("read");
  return read_through(file, [&] { return call(file, bytes, size); });
}

ssize_t pread64(int file, void* bytes, size_t size, off64_t offset) {
  static const auto call = real<ssize_t (*)(int, void*, std::size_t, off64_t)>("pread64");
  return read_through(file, [&] { return call(file, bytes, size, offset); });
}

ssize_t pread(int file, void* bytes, size_t size, off_t offset) {
  return pread64(file, bytes, size, offset);
}

int fsync(int file) {
  static const auto call = real<int (*)(int)>("fsync");
  return sync_through(file, [&] { return call(file); });
}

int fdatasync(int file) {
  static const auto call = real<int (*)(int)>("fdatasync");
  return sync_through(file, [&] { return call(file); });
}

int ftruncate64(int file, off64_t size) noexcept {
  static const auto call = real<int (*)(int, off64_t)>("ftruncate64");
  return truncate_through(file, size, [&] { return call(file, size); });
}

int ftruncate(int file, off_t size) noexcept {
  return ftruncate64(file, size);
}

int fallocate64(int file, int mode, off64_t offset, off64_t size) {
  static const auto call = real<int (*)(int, int, off64_t, off64_t)>("fallocate64");
  if (!is_ours(file)) return call(file, mode, offset, size);
  return through(
      Kind::Allocate, true, [&] { return call(file, mode, offset, size); }, [](int) {});
}

int fallocate(int file, int mode, off_t offset, off_t size) {
  return fallocate64(file, mode, offset, size);
}

int rename(const char* from, const char* to) noexcept {
  static const auto call = real<int (*)(const char*, const char*)>("rename");
  return names_through(Kind::Rename, from, to, [&] { return call(from, to); });
}

int renameat(int from_folder, const char* from, int to_folder, const char* to) noexcept {
  static const auto call = real<int (*)(int, const char*, int, const char*)>("renameat");
  return names_through(Kind::Rename, from, to, [&] { return call(from_folder, from, to_folder, to); });
}

int renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned flags) noexcept {
  static const auto call = real<int (*)(int, const char*, int, const char*, unsigned)>("renameat2");
  return names_through(Kind::Rename, from, to, [&] { return call(from_folder, from, to_folder, to, flags); });
}

int link(const char* from, const char* to) noexcept {
  static const auto call = real<int (*)(const char*, const char*)>("link");
  return names_through(Kind::Link, from, to, [&] { return call(from, to); });
}

int unlink(const char* path) noexcept {
  static const auto call = real<int (*)(const char*)>("unlink");
  return names_through(Kind::Unlink, path, nullptr, [&] { return call(path); });
}

int remove(const char* path) noexcept {
  static const auto call = real<int (*)(const char*)>("remove");
  return names_through(Kind::Unlink, path, nullptr, [&] { return call(path); });
}

int rmdir(const char* path) noexcept {
  static const auto call = real<int (*)(const char*)>("rmdir");
  return names_through(Kind::Unlink, path, nullptr, [&] { return call(path); });
}

int mkdir(const char* path, mode_t mode) noexcept {
  static const auto call = real<int (*)(const char*, mode_t)>("mkdir");
  if (!is_ours(path)) return call(path, mode);
  return through(
      Kind::Folder, true, [&] { return call(path, mode); },
      [&](int) {
        journal_entry({Kind::Folder, -1, 0, path, {}, {}});
      });
}
}
