#include "loadlight/system/copy_files.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <filesystem>

#include "atomic_write.h"
#include "descriptor.h"
#include "loadlight/system/files.h"
#include "loadlight/system/folders.h"
#include "queue_text.h"

namespace loadlight::system {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
using port::QueuedAct;

constexpr std::size_t kLargestState = 100;        // bytes
constexpr std::size_t kLargestQueue = 64u << 20;  // bytes

Failure damaged(const std::string& path) {
  return {FailureCode::RecordDamaged, {{"path", path}, {"why", "malformed"}}, {}};
}

// Held as long as it lives.
Result<Descriptor> lock(const std::string& folder) {
  const std::string path = folder + "/lock";
  Descriptor file{::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, kOwnerOnly)};
  if (!file.open() || ::flock(file.number(), LOCK_EX) != 0) return unwritable(path, errno);
  return file;
}

bool is_there(const std::string& path) {
  std::error_code error;
  return std::filesystem::exists(path, error) || error;
}

std::optional<std::int64_t> number_in(std::string_view text) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size() || number < 0) return std::nullopt;
  return number;
}

// "ROUND TAKEN", the latter in milliseconds, or "-".
std::string text_of(const CopyFiles::State& state) {
  const std::string taken = state.taken ? std::to_string(core::to_milliseconds(*state.taken)) : "-";
  return std::to_string(state.round) + " " + taken + "\n";
}

std::optional<CopyFiles::State> parse_state(std::string_view text) {
  const std::size_t blank = text.find(' ');
  if (blank == std::string_view::npos || !text.ends_with('\n')) return std::nullopt;
  const auto round = number_in(text.substr(0, blank));
  const std::string_view taken = text.substr(blank + 1, text.size() - blank - 2);
  if (!round) return std::nullopt;
  if (taken == "-") return CopyFiles::State{*round, std::nullopt};
  const auto moment = number_in(taken);
  if (!moment) return std::nullopt;
  return CopyFiles::State{*round, core::instant_from(*moment)};
}

Result<CopyFiles::State> read_state(const std::string& path) {
  if (!is_there(path)) return CopyFiles::State{};
  const auto text = read_whole_file(path, kLargestState);
  if (!text) return text.failure();
  const auto state = parse_state(*text);
  if (!state) return damaged(path);
  return *state;
}

Result<void> write_state(const std::string& path, const CopyFiles::State& state) {
  return write_atomically(path, text_of(state), kOwnerOnly);
}

Result<std::vector<QueuedAct>> read_queue(const std::string& path) {
  std::vector<QueuedAct> acts;
  if (!is_there(path)) return acts;
  const auto text = read_whole_file(path, kLargestQueue);
  if (!text) return text.failure();
  for (std::size_t at = 0; at < text->size();) {
    const std::size_t end = std::min(text->find('\n', at), text->size());
    auto act = parse_queued(std::string_view{*text}.substr(at, end - at));
    if (!act || end == text->size()) return damaged(path);
    acts.push_back(std::move(*act));
    at = end + 1;
  }
  return acts;
}

std::string text_of(const std::vector<QueuedAct>& acts) {
  std::string text;
  for (const QueuedAct& act : acts) text += print_queued(act) + "\n";
  return text;
}

bool is_opened(const std::vector<QueuedAct>& acts, const std::string& package) {
  return std::any_of(acts.begin(), acts.end(), [&](const QueuedAct& each) {
    return each.kind == core::EventKind::PackageOpened && each.subject == package;
  });
}

}  // namespace

Result<void> CopyFiles::prepare() const {
  if (auto made = make_station_folder(folder_); !made) return made;
  return make_station_folder(record_folder());
}

Result<CopyFiles::State> CopyFiles::state() const {
  return read_state(state_path());
}

Result<bool> CopyFiles::stamp(const State& before, core::Instant taken) const {
  const auto locked = lock(folder_);
  if (!locked) return locked.failure();
  const auto now = read_state(state_path());
  if (!now) return now.failure();
  if (now->round != before.round) return false;
  if (auto written = write_state(state_path(), {before.round, taken}); !written) return written.failure();
  return true;
}

Result<void> CopyFiles::outdate() const {
  if (!is_there(folder_)) return {};
  const auto locked = lock(folder_);
  if (!locked) return locked.failure();
  return outdate_locked();
}

// One that cannot be made out is begun anew.
Result<void> CopyFiles::outdate_locked() const {
  const auto now = read_state(state_path());
  if (!now && now.failure().code != FailureCode::RecordDamaged) return now.failure();
  return write_state(state_path(), {now ? now->round + 1 : 1, std::nullopt});
}

Result<bool> CopyFiles::append(const QueuedAct& act, core::Instant taken) const {
  const auto locked = lock(folder_);
  if (!locked) return locked.failure();
  const auto now = read_state(state_path());
  if (!now) return now.failure();
  if (now->taken != taken) return false;
  auto acts = read_queue(queue_path());
  if (!acts) return acts.failure();
  if (act.kind == core::EventKind::PackageOpened && is_opened(*acts, act.subject)) return false;
  acts->push_back(act);
  if (auto written = write_atomically(queue_path(), text_of(*acts), kOwnerOnly); !written) return written.failure();
  return true;
}

Result<std::vector<QueuedAct>> CopyFiles::queued() const {
  if (!is_there(queue_path())) return std::vector<QueuedAct>{};
  const auto locked = lock(folder_);
  if (!locked) return locked.failure();
  return read_queue(queue_path());
}

// The copy is outdated before anything is forgotten that it lacks.
Result<void> CopyFiles::settle(const std::vector<std::string>& ids) const {
  const auto locked = lock(folder_);
  if (!locked) return locked.failure();
  auto acts = read_queue(queue_path());
  if (!acts) return acts.failure();
  if (auto outdated = outdate_locked(); !outdated) return outdated;
  std::erase_if(*acts, [&](const QueuedAct& act) { return std::find(ids.begin(), ids.end(), act.id) != ids.end(); });
  return write_atomically(queue_path(), text_of(*acts), kOwnerOnly);
}

}  // namespace loadlight::system
