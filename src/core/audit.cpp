#include "loadlight/core/audit.h"

namespace loadlight::core {

std::optional<std::string> expected_location(const Package& package, const Load& load) {
  const bool ready = package.state == PackageState::Loaded && !package.recalled &&
                     load.state == LoadState::Released;
  return ready ? package.location : std::nullopt;
}

AuditStatus status_of(const std::optional<std::string>& expected, std::string_view seen_at) {
  if (!expected) return AuditStatus::Unexpected;
  return *expected == seen_at ? AuditStatus::Present : AuditStatus::Misplaced;
}

bool is_certain_match(double over_second, double over_chance) {
  return over_second >= kMatchOverSecond && over_chance >= kMatchOverChance;
}

}  // namespace loadlight::core
