// Which loads a positive biological indicator puts in doubt.
#pragma once

#include <limits>
#include <optional>
#include <span>
#include <string>

#include "loadlight/core/biological.h"
#include "loadlight/core/profiles.h"

namespace loadlight::core {

// A result of one sterilizer, under the place of its load among the sterilizer's runs (Load::run).
struct ChainResult final {
  int run = 0;
  std::string program;
  BiologicalStanding standing = BiologicalStanding::Invalid;
};

// Runs of the sterilizer, both ends included.
struct SuspectRange final {
  int first_run = 1;
  int last_run = 0;
  std::optional<std::string> program;  // only loads of this program; none: of every program

  friend bool operator==(const SuspectRange&, const SuspectRange&) = default;
};

// The end of a range of which it is not known where the sterilizer was taken out of service.
inline constexpr int kLastOfAllRuns = std::numeric_limits<int>::max();

// From after the last negative result that was run before the positive one (that load itself is accepted),
// or from the first run where there is none; on until before the next negative that was run later, or until
// `newest_run`, the last run before the sterilizer was taken out of service. Where each program has its own
// chain, only results of the positive one's program bound the range and only its loads are in it.
//
// Results come in any order and days late; only when they were run matters. A run bounds the range iff
// every result it carries is negative. What is not known bounds nothing: without a program where each has
// its own chain, or with a positive run under 1, every load is in doubt; with a newest run before the
// positive one, the range ends with the next negative alone.
SuspectRange suspect_range(std::span<const ChainResult> results, int positive_run,
                           const std::string& positive_program, int newest_run, BiologicalChains chains);

}  // namespace loadlight::core
