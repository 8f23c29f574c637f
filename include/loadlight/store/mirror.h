// One record brought up to date with another: entry by entry, as the other's ledger holds them.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>

#include "loadlight/core/result.h"
#include "loadlight/store/place.h"

namespace loadlight::store {

struct MirrorProgress final {
  std::int64_t done = 0;  // the sequence that was come to
  std::int64_t all = 0;   // the last
};

struct MirrorOptions final {
  std::size_t batch = 200;  // entries in a transaction of the target
  // Asked after each; false: Stopped. May be empty.
  std::function<bool(const MirrorProgress&)> goes_on{};
};

struct MirrorReply final {
  std::int64_t added = 0;  // entries
  std::int64_t last = 0;   // the source's last
};

// Adds to the target, which exists, what the source holds at this moment and it does not: each entry as it stands, the
// rows that it says, and where each chain of the source's ledger stands, which is believed as it is: what is wrong with
// it is found in the target, too. Memory stays bounded. One that was stopped or broke off is gone on with by the next.
//
// RecordsDiffer when the target holds an entry that the source lacks or tells otherwise, RecordDamaged when an entry
// of the source is none; ChangedMeanwhile when somebody else wrote into the target.
core::Result<MirrorReply> mirror_record(const RecordPlace& source, const RecordPlace& target,
                                        const MirrorOptions& options = {});

// True when every chain of both ledgers stands at the same entry.
core::Result<bool> same_ledger(const RecordPlace& one, const RecordPlace& other);

}  // namespace loadlight::store
