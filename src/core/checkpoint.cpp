#include "loadlight/core/checkpoint.h"

#include <algorithm>
#include <array>

namespace loadlight::core {
namespace {

// What nobody should be able to unsay unnoticed.
constexpr std::array kWeighty{EventKind::LoadReleased, EventKind::ReleaseRevoked, EventKind::LoadRecalled,
                              EventKind::IncidentClosed};

bool is_weighty(EventKind kind) {
  return std::find(kWeighty.begin(), kWeighty.end(), kind) != kWeighty.end();
}

}  // namespace

bool asks_for_checkpoint(std::int64_t first, std::int64_t last, const std::vector<EventKind>& kinds) {
  const bool crosses = last / kEntriesBetweenCheckpoints > (first - 1) / kEntriesBetweenCheckpoints;
  return crosses || std::any_of(kinds.begin(), kinds.end(), is_weighty);
}

bool checkpoint_overdue(const std::optional<Instant>& newest, Instant now) {
  return !newest || now - *newest > kLongestWithoutCheckpoint || *newest - now > kLongestWithoutCheckpoint;
}

}  // namespace loadlight::core
