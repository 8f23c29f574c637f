#include "vision/grid_sampler.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "vision/levels.h"
#include "vision/module_plane.h"
#include "vision/module_tones.h"
#include "vision/module_trust.h"

namespace loadlight::vision {
namespace {

constexpr int kAround = 4;  // modules each way that tell what black and white are
constexpr double kLeastContrast =
    0.3;                             // of the symbol's usual contrast; where there is less, nothing is known
constexpr double kLeastNoise = 0.1;  // of the contrast: what is always doubted
constexpr int kRounds = 3;           // of taking off what neighbours shed

// The mean level of the inner part of each module.
ModulePlane module_levels(const cv::Mat& levels, const GridMap& map) {
  constexpr std::array<double, 3> kOffsets{0.27, 0.5, 0.73};
  ModulePlane plane{map.side()};
  for (int y = 0; y < plane.side; ++y) {
    for (int x = 0; x < plane.side; ++x) {
      double sum = 0;
      for (const double v : kOffsets) {
        for (const double u : kOffsets) {
          const auto at = map.at(x + u, y + v);
          sum += level_at(levels, at.x, at.y);
        }
      }
      plane.at(x, y) = sum / 9;
    }
  }
  return plane;
}

// Levels from -1 (black) to 1 (white); `trust` is 0 where they tell nothing, 1 where all.
struct Shades final {
  ModulePlane shade;
  ModulePlane trust;
};

Shades shades_of(const ModulePlane& levels) {
  Shades shades{ModulePlane{levels.side}, trust_in(levels)};
  const auto tones = tones_of(levels, shades.trust, kAround);
  const double least = kLeastContrast * usual_contrast(tones);
  for (int y = 0; y < levels.side; ++y) {
    for (int x = 0; x < levels.side; ++x) {
      const double contrast = std::max(tones.contrast(x, y), 1e-3);
      shades.shade.at(x, y) = (levels.at(x, y) - tones.middle(x, y)) / contrast * 2;
      if (contrast < least) shades.trust.at(x, y) = 0;
    }
  }
  return shades;
}

// What is believed of each module so far: -1 dark to 1 light; beyond the symbol light.
double belief_at(const ModulePlane& beliefs, int x, int y) {
  return beliefs.has(x, y) ? beliefs.at(x, y) : 1;
}

struct Neighbours final {
  double own;
  double sides;
  double corners;
};

Neighbours neighbours_of(const ModulePlane& beliefs, int x, int y) {
  const auto at = [&](int dx, int dy) { return belief_at(beliefs, x + dx, y + dy); };
  return {beliefs.at(x, y), at(-1, 0) + at(1, 0) + at(0, -1) + at(0, 1),
          at(-1, -1) + at(1, -1) + at(-1, 1) + at(1, 1)};
}

// shade = own * a + sides * b + corners * c + d, by least squares over the symbol.
cv::Vec4d spill_of(const Shades& shades, const ModulePlane& beliefs) {
  cv::Matx44d normal = cv::Matx44d::eye() * 1e-3;
  cv::Vec4d right;
  for (int y = 0; y < beliefs.side; ++y) {
    for (int x = 0; x < beliefs.side; ++x) {
      if (shades.trust.at(x, y) < 1) continue;
      const auto near = neighbours_of(beliefs, x, y);
      const cv::Vec4d row(near.own, near.sides, near.corners, 1);
      normal += row * row.t();
      right += row * shades.shade.at(x, y);
    }
  }
  return normal.solve(right, cv::DECOMP_CHOLESKY);
}

// One round: beliefs from shades less what the neighbours, as believed before, shed.
ModulePlane likelihoods(const Shades& shades, const ModulePlane& beliefs) {
  const auto spill = spill_of(shades, beliefs);
  const double own = std::max(0.2, spill[0]);
  ModulePlane clean{beliefs.side};
  std::vector<double> off;
  for (int y = 0; y < beliefs.side; ++y) {
    for (int x = 0; x < beliefs.side; ++x) {
      const auto near = neighbours_of(beliefs, x, y);
      clean.at(x, y) =
          (shades.shade.at(x, y) - spill[1] * near.sides - spill[2] * near.corners - spill[3]) / own;
      if (shades.trust.at(x, y) == 1) off.push_back(std::abs(std::abs(clean.at(x, y)) - 1));
    }
  }
  const double deviation = std::max(2 * kLeastNoise, 1.48 * median_of(std::move(off)));
  for (auto& value : clean.values) value = 2 * value / (deviation * deviation);
  return clean;
}

}  // namespace

SoftGrid sample_grid(const cv::Mat& levels, const GridMap& map) {
  const Shades shades = shades_of(module_levels(levels, map));
  ModulePlane beliefs{map.side()};
  for (std::size_t i = 0; i < beliefs.values.size(); ++i)
    beliefs.values[i] = std::tanh(2 * shades.shade.values[i]);
  ModulePlane told{map.side()};
  for (int round = 0; round < kRounds; ++round) {
    told = likelihoods(shades, beliefs);
    for (std::size_t i = 0; i < told.values.size(); ++i) beliefs.values[i] = std::tanh(told.values[i] / 2);
  }
  SoftGrid grid{map.side(), {}};
  grid.dark.reserve(told.values.size());
  constexpr double kMost = kMostLikelihood;
  for (std::size_t i = 0; i < told.values.size(); ++i) {
    const double dark = std::clamp(-told.values[i], -kMost, kMost);
    grid.dark.push_back(static_cast<float>(dark * shades.trust.values[i]));
  }
  return grid;
}

SoftGrid turned(const SoftGrid& grid, int quarters) {
  SoftGrid result = grid;
  const int last = grid.side - 1;
  for (int turn = 0; turn < (quarters & 3); ++turn) {
    const SoftGrid before = result;
    auto* next = result.dark.data();
    for (int y = 0; y <= last; ++y) {
      for (int x = 0; x <= last; ++x) *next++ = before.at(y, last - x);
    }
  }
  return result;
}

}  // namespace loadlight::vision
