// What a record still knows of times, once its clock stood ahead and was put right.
//
// Events that were written meanwhile carry a time that is too late. When a lead accepts a clock that the newest
// event lies ahead of, by `ahead`, then the clock leapt forward before some event, by `ahead` at least. A leap
// shows as a gap between events that is at least as long, so whatever follows the first gap of `ahead` or more
// may have happened earlier than it says, by up to the longest such gap before it. Without any such gap nothing
// is known but that the events followed the last correction, or the making of this program. Two stations may
// write to one record and lie apart by the tolerance: all this gives way by as much.
//
// The leap was longer than `ahead` by the time between the newest event and the acceptance. That is taken to be no
// more than a month: everything holds meanwhile. Without such a bound a clock put back by minutes would cost
// every package the office's longest closure.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/dates.h"

namespace loadlight::core {

// A clock that shows an earlier time is wrong: this program was not made yet.
inline constexpr Instant kProgramMade =
    std::chrono::sys_days{std::chrono::year{2026} / std::chrono::January / 1};

using Milliseconds = std::chrono::milliseconds;

inline constexpr std::chrono::days kNoticedWithin{31};

// From this entry of the ledger on, events may have happened earlier than they say by up to `by`.
struct ClockDoubt final {
  std::int64_t from = 0;
  Milliseconds by{};

  friend bool operator==(const ClockDoubt&, const ClockDoubt&) = default;
};

std::string to_text(const ClockDoubt& doubt);  // "17 31536000000"
std::optional<ClockDoubt> parse_clock_doubt(std::string_view text);

// How much earlier than it says the entry may have happened.
Milliseconds doubt_at(const std::vector<ClockDoubt>& doubts, std::int64_t sequence);

// Walks the ledger's entries in their order.
class ClockLeaps final {
 public:
  void take(std::int64_t sequence, Instant at, bool corrects_clock);
  // What is in doubt when the clock is accepted at `now`; nothing when no entry lies ahead of it by more than
  // the tolerance. No entry's `by` is shorter than the one's before.
  std::vector<ClockDoubt> when_put_right(Instant now, Minutes tolerance) const;

 private:
  void begin(std::int64_t sequence, Instant at, Instant not_before);

  std::int64_t first_ = 0;  // since the last correction; 0: no entry yet
  Instant not_before_ = kProgramMade;
  Instant newest_{};
  std::vector<ClockDoubt> gaps_;  // each longer than all before it
};

}  // namespace loadlight::core
