#include "loadlight/system/checkpoint_book.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>

#include "atomic_write.h"
#include "checkpoint_text.h"
#include "descriptor.h"
#include "loadlight/system/files.h"
#include "loadlight/system/folders.h"
#include "station_key.h"

namespace loadlight::system {
namespace {

namespace fs = std::filesystem;
using core::Result;
using port::CheckpointList;

constexpr std::size_t kLargestBook = 256 << 20;  // bytes
constexpr off_t kTail = 16 << 10;                // bytes that hold the last line whole
constexpr std::string_view kEnding = ".checkpoints";

// After a line that was cut off a new one begins: what is appended is never lost with it.
int append_locked(const std::string& path, int file, std::string line) {
  struct stat held {};
  if (::fstat(file, &held) != 0) return errno;
  char last = '\n';
  if (held.st_size > 0 && ::pread(file, &last, 1, held.st_size - 1) != 1) return errno;
  if (last != '\n') line.insert(0, "\n");
  const ssize_t put = ::write(file, line.data(), line.size());
  if (put < 0) return errno;
  if (static_cast<std::size_t>(put) != line.size()) return ENOSPC;
  if (::fsync(file) != 0) return errno;
  return sync_name(path);  // it may be new, or one whose first line was cut off
}

Result<void> append_line(const std::string& path, const std::string& line) {
  const Descriptor file{::open(path.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC | O_NOFOLLOW, kOwnerOnly)};
  if (!file.open()) return unwritable(path, errno);
  if (::flock(file.number(), LOCK_EX) != 0) return unwritable(path, errno);
  const int error = append_locked(path, file.number(), line + "\n");  // the lock goes with the file
  if (error != 0) return unwritable(path, error);
  return {};
}

bool is_there(const std::string& path) {
  std::error_code error;
  return fs::exists(path, error) || error;
}

Result<CheckpointList> read_list(const std::string& path, const std::string& own_key) {
  if (!is_there(path)) return CheckpointList{path, false, {}, 0};
  const auto text = read_whole_file(path, kLargestBook);
  if (!text) return text.failure();
  return parse_list(path, *text, own_key);
}

std::string tail_of(const std::string& path) {
  const Descriptor file{::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
  struct stat held {};
  if (!file.open() || ::fstat(file.number(), &held) != 0) return {};
  std::string tail(static_cast<std::size_t>(std::min<off_t>(held.st_size, kTail)), '\0');
  const ssize_t got = ::pread(file.number(), tail.data(), tail.size(), held.st_size - static_cast<off_t>(tail.size()));
  tail.resize(got > 0 ? static_cast<std::size_t>(got) : 0);
  return tail;
}

std::optional<StationLine> last_line(std::string text) {
  while (!text.empty()) {
    const std::size_t before = text.find_last_of('\n');
    const std::size_t begin = before == std::string::npos ? 0 : before + 1;
    if (auto line = parse_line(std::string_view{text}.substr(begin))) return line;
    if (before == std::string::npos) break;
    text.resize(before);
  }
  return std::nullopt;
}

// What a station's file says of the folder it was last made in.
struct Trace final {
  std::optional<core::Instant> begun;  // the last time it was begun there
  std::optional<core::Instant> newest;
};

Trace trace_in(const std::string& path, const std::string& folder) {
  Trace trace;
  const auto text = read_whole_file(path, kLargestBook);
  if (!text) return trace;
  for (std::size_t at = 0; at < text->size();) {
    const std::size_t end = std::min(text->find('\n', at), text->size());
    const auto line = parse_line(std::string_view{*text}.substr(at, end - at));
    at = end + 1;
    if (!line || line->folder != folder) continue;
    trace.newest = line->checkpoint.at;
    if (line->begun) trace.begun = line->checkpoint.at;
  }
  return trace;
}

class FileCheckpointBook final : public port::CheckpointBook {
 public:
  FileCheckpointBook(std::string office, std::string station)
      : folder_(std::move(office)), station_(std::move(station)) {}

  // The office's file first: whatever stands in the station's then stands in both.
  Result<core::Checkpoint> keep(core::Checkpoint checkpoint) override {
    if (const auto made = make_station_folder(station_); !made) return made.failure();
    const bool begun = checkpoint.sequence == 1 || checkpoint.restored_after;
    auto done = sign_checkpoint(station_, std::move(checkpoint));
    if (!done) return done;
    if (const auto kept = append_line(own_path(), print_line(*done)); !kept) return kept.failure();
    const StationLine line{*done, place(), begun};
    if (const auto kept = append_line(station_path(done->office), print_line(line)); !kept) return kept.failure();
    return done;
  }

  std::optional<core::Instant> newest() const override {
    const auto line = last_line(tail_of(own_path()));
    return line ? std::optional{line->checkpoint.at} : std::nullopt;
  }

  Result<CheckpointList> of_office() const override { return read_list(own_path(), public_key(station_)); }

  Result<CheckpointList> of_station(std::string_view office) const override {
    return read_list(station_path(office), public_key(station_));
  }

  CheckpointList parse(std::string path, std::string_view text) const override {
    return parse_list(std::move(path), text, public_key(station_));
  }

  Result<std::vector<std::string>> others_here(std::string_view office) const override {
    std::vector<std::string> others;
    const Trace ours = trace_in(station_path(office), place());
    std::error_code error;
    for (fs::directory_iterator entry{station_, error}, end; !error && entry != end; entry.increment(error)) {
      const std::string name = entry->path().filename();
      if (!name.ends_with(kEnding) || name == std::string{office} + std::string{kEnding}) continue;
      const Trace other = trace_in(entry->path(), place());
      if (!other.newest || (ours.begun && *ours.begun >= *other.newest)) continue;
      others.push_back(name.substr(0, name.size() - kEnding.size()));
    }
    return others;
  }

  std::string line_of(const core::Checkpoint& checkpoint) const override { return print_line(checkpoint); }

 private:
  std::string own_path() const { return folder_ + "/checkpoints.jsonl"; }
  std::string station_path(std::string_view office) const {
    return station_ + "/" + std::string{office} + std::string{kEnding};
  }
  std::string place() const {
    std::error_code unresolved;
    const fs::path whole = fs::weakly_canonical(fs::absolute(folder_, unresolved), unresolved);
    return (whole.has_filename() ? whole : whole.parent_path()).string();
  }

  std::string folder_;
  std::string station_;
};

}  // namespace

std::unique_ptr<port::CheckpointBook> open_checkpoint_book(const std::string& office_folder) {
  return std::make_unique<FileCheckpointBook>(office_folder, station_folder());
}

Result<void> take_up_checkpoints(const std::string& office_folder, std::string_view office) {
  const auto book = open_checkpoint_book(office_folder);
  const auto there = book->of_office();
  if (!there) return there.failure();
  const auto kept = book->of_station(office);
  if (!kept) return kept.failure();
  for (const port::KeptCheckpoint& each : kept->kept) {
    const bool known = std::any_of(there->kept.begin(), there->kept.end(), [&](const port::KeptCheckpoint& one) {
      return one.checkpoint.signature == each.checkpoint.signature;
    });
    if (known || !each.genuine) continue;
    if (auto put = append_line(office_folder + "/checkpoints.jsonl", book->line_of(each.checkpoint)); !put) return put;
  }
  return {};
}

}  // namespace loadlight::system
