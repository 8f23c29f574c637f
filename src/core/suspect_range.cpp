#include "loadlight/core/suspect_range.h"

#include <algorithm>
#include <map>

namespace loadlight::core {
namespace {

// Run to whether all its results are negatives of the chain in question.
using Bounds = std::map<int, bool>;

Bounds bounds_of(std::span<const ChainResult> results, const std::optional<std::string>& program) {
  Bounds bounds;
  for (const ChainResult& result : results) {
    const bool is_negative = result.standing == BiologicalStanding::Negative;
    const bool is_of_chain = !program || result.program == *program;
    const auto [row, is_new] = bounds.emplace(result.run, true);
    row->second = row->second && is_negative && is_of_chain;
  }
  return bounds;
}

int first_after_negative(const Bounds& bounds, int positive_run) {
  int first = 1;
  for (const auto& [run, bounding] : bounds) {
    if (bounding && run < positive_run) first = std::max(first, run + 1);
  }
  return first;
}

int last_before_negative(const Bounds& bounds, int positive_run, int newest_run) {
  const auto is_end = [&](const auto& row) { return row.second && row.first > positive_run; };
  const auto end = std::ranges::find_if(bounds, is_end);
  return end == bounds.end() ? newest_run : std::min(newest_run, end->first - 1);
}

}  // namespace

SuspectRange suspect_range(std::span<const ChainResult> results, int positive_run,
                           const std::string& positive_program, int newest_run, BiologicalChains chains) {
  const int newest = newest_run < std::max(positive_run, 1) ? kLastOfAllRuns : newest_run;
  const bool pooled = chains == BiologicalChains::Pooled;
  if (positive_run < 1 || (!pooled && positive_program.empty())) return {1, newest, std::nullopt};

  const auto program = pooled ? std::nullopt : std::optional{positive_program};
  const Bounds bounds = bounds_of(results, program);
  return {first_after_negative(bounds, positive_run), last_before_negative(bounds, positive_run, newest),
          program};
}

}  // namespace loadlight::core
