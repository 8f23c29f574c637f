#include "vision/soft_grid.h"

#include <algorithm>
#include <cassert>
#include <functional>

namespace loadlight::vision {

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
