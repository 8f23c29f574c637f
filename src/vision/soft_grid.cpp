#include "vision/soft_grid.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <functional>

#include "vision/qr_structure.h"

namespace loadlight::vision {

bool is_sound(const SoftGrid& grid) {
  const auto side = static_cast<std::size_t>(std::max(grid.side, 0));
  return version_of(grid.side) && grid.dark.size() == side * side &&
         std::all_of(grid.dark.begin(), grid.dark.end(), [](float value) { return std::isfinite(value); });
}

SoftGrid fuse(std::span<const SoftGrid> shots) {
  if (shots.empty()) return {};
  SoftGrid result = shots.front();
  for (const auto& shot : shots.subspan(1)) {
    assert(shot.side == result.side && shot.dark.size() == result.dark.size());
    std::transform(shot.dark.begin(), shot.dark.end(), result.dark.begin(), result.dark.begin(), std::plus{});
  }
  for (auto& value : result.dark) value = std::clamp(value, -kMostLikelihood, kMostLikelihood);
  return result;
}

}  // namespace loadlight::vision
