// Checkpoints: how far the ledger had come at a moment, signed by the station. One kept outside the record shows
// that the ledger was cut off, swapped or rewritten, even by somebody who knows how its hashes are made.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/events.h"

namespace loadlight::core {

struct Checkpoint final {
  std::int64_t sequence = 0;  // of a ledger entry
  std::string hash;           // of that entry
  Instant at{};
  std::string office;  // hash of the ledger's first entry, which no two offices share
  // The record was put back from a copy that ended with this entry: checkpoints made before this one, of later
  // entries, are of a past that was given up.
  std::optional<std::int64_t> restored_after;
  std::string key;        // Ed25519, public: 64 hex digits
  std::string signature;  // 128 hex digits

  friend bool operator==(const Checkpoint&, const Checkpoint&) = default;
};

inline constexpr std::int64_t kEntriesBetweenCheckpoints = 64;
inline constexpr std::chrono::hours kLongestWithoutCheckpoint{24};

// Whether entries `first` to `last` of these kinds ask for a checkpoint by themselves.
bool asks_for_checkpoint(std::int64_t first, std::int64_t last, const std::vector<EventKind>& kinds);

// Whether time asks for one: a day without, by a clock that may have been set back. None yet: yes.
bool checkpoint_overdue(const std::optional<Instant>& newest, Instant now);

}  // namespace loadlight::core
