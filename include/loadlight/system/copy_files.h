// The files beside a station's own copy of a shared record, in a folder private to its user: `state`, when the copy was
// taken, and `queue`, what was done while the record could not be reached.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/result.h"
#include "loadlight/port/local_copy.h"

namespace loadlight::system {

// Thread-safe, and safe against other processes: each call holds a lock.
class CopyFiles final {
 public:
  // `round` rises whenever the copy is outdated: a copy that was begun before is worth nothing.
  struct State final {
    std::int64_t round = 0;
    std::optional<core::Instant> taken;

    friend bool operator==(const State&, const State&) = default;
  };

  explicit CopyFiles(std::string folder) : folder_(std::move(folder)) {}

  // Where the copy's record lies, and what is locked while it is written.
  std::string record_folder() const { return folder_ + "/record"; }

  // Makes the folders.
  core::Result<void> prepare() const;
  // RecordDamaged when it cannot be made out; before the first, round 0 of no copy.
  core::Result<State> state() const;
  // The copy is whole as of `taken`. False, and nothing changed, when it was outdated since `before` was read.
  core::Result<bool> stamp(const State& before, core::Instant taken) const;
  // There is no copy until the next is taken.
  core::Result<void> outdate() const;

  // As port::LocalCopy promises.
  core::Result<bool> append(const port::QueuedAct& act, core::Instant taken) const;
  core::Result<std::vector<port::QueuedAct>> queued() const;
  core::Result<void> settle(const std::vector<std::string>& ids) const;

 private:
  core::Result<void> outdate_locked() const;
  std::string state_path() const { return folder_ + "/state"; }
  std::string queue_path() const { return folder_ + "/queue"; }

  std::string folder_;
};

}  // namespace loadlight::system
