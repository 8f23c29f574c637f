#include "vision/grid_sampler.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "vision/levels.h"

namespace loadlight::vision {
namespace {

constexpr int kAround = 4;  // modules each way that tell what black and white are
constexpr double kLeastContrast =
    0.3;                             // of the symbol's usual contrast; where there is less, nothing is known
constexpr double kLeastNoise = 0.1;  // of the contrast: what is always doubted
constexpr int kRounds = 3;           // of taking off what neighbours shed

// One number a module, row by row.
struct Plane final {
  int side;
  std::vector<double> values;

  explicit Plane(int modules, double value = 0)
      : side(modules), values(static_cast<std::size_t>(modules * modules), value) {}
  double& at(int x, int y) { return values[static_cast<std::size_t>(y * side + x)]; }
  double at(int x, int y) const { return values[static_cast<std::size_t>(y * side + x)]; }
  bool has(int x, int y) const { return x >= 0 && y >= 0 && x < side && y < side; }
};

// The mean level of the inner part of each module.
Plane module_levels(const cv::Mat& levels, const GridMap& map) {
  constexpr std::array<double, 3> kOffsets{0.27, 0.5, 0.73};
  Plane plane{map.side()};
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

double median(std::vector<double> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

struct Tones final {
  Plane black;
  Plane white;
  explicit Tones(int side) : black(side), white(side) {}
  double contrast(int x, int y) const { return white.at(x, y) - black.at(x, y); }
  double middle(int x, int y) const { return (white.at(x, y) + black.at(x, y)) / 2; }
};

// Two means of what lies around one module.
void tones_around(const Plane& levels, int x, int y, Tones& tones) {
  std::array<double, (2 * kAround + 1) * (2 * kAround + 1)> near;
  std::size_t count = 0;
  double sum = 0;
  for (int j = std::max(0, y - kAround); j <= std::min(levels.side - 1, y + kAround); ++j) {
    for (int i = std::max(0, x - kAround); i <= std::min(levels.side - 1, x + kAround); ++i) {
      sum += near[count++] = levels.at(i, j);
    }
  }
  double limit = sum / static_cast<double>(count);
  for (int round = 0; round < 3; ++round) {
    double dark = 0;
    double light = 0;
    double darks = 0;
    for (std::size_t i = 0; i < count; ++i) {
      (near[i] < limit ? dark : light) += near[i];
      darks += near[i] < limit;
    }
    const double lights = static_cast<double>(count) - darks;
    tones.black.at(x, y) = darks > 0 ? dark / darks : limit;
    tones.white.at(x, y) = lights > 0 ? light / lights : limit;
    limit = tones.middle(x, y);
  }
}

Tones tones_of(const Plane& levels) {
  Tones tones{levels.side};
  for (int y = 0; y < levels.side; ++y) {
    for (int x = 0; x < levels.side; ++x) tones_around(levels, x, y, tones);
  }
  return tones;
}

// Levels from -1 (black) to 1 (white); `known` is 0 where there is too little contrast to say.
struct Shades final {
  Plane shade;
  Plane known;
};

Shades shades_of(const Plane& levels) {
  const Tones tones = tones_of(levels);
  std::vector<double> contrasts;
  for (int y = 0; y < levels.side; ++y) {
    for (int x = 0; x < levels.side; ++x) contrasts.push_back(tones.contrast(x, y));
  }
  const double least = kLeastContrast * median(std::move(contrasts));
  Shades shades{Plane{levels.side}, Plane{levels.side, 1}};
  for (int y = 0; y < levels.side; ++y) {
    for (int x = 0; x < levels.side; ++x) {
      const double contrast = std::max(tones.contrast(x, y), 1e-3);
      shades.shade.at(x, y) = (levels.at(x, y) - tones.middle(x, y)) / contrast * 2;
      if (contrast < least) shades.known.at(x, y) = 0;
    }
  }
  return shades;
}

// What is believed of each module so far: -1 dark to 1 light; beyond the symbol light.
double belief_at(const Plane& beliefs, int x, int y) {
  return beliefs.has(x, y) ? beliefs.at(x, y) : 1;
}

struct Neighbours final {
  double own;
  double sides;
  double corners;
};

Neighbours neighbours_of(const Plane& beliefs, int x, int y) {
  const auto at = [&](int dx, int dy) { return belief_at(beliefs, x + dx, y + dy); };
  return {beliefs.at(x, y), at(-1, 0) + at(1, 0) + at(0, -1) + at(0, 1),
          at(-1, -1) + at(1, -1) + at(-1, 1) + at(1, 1)};
}

// shade = own * a + sides * b + corners * c + d, by least squares over the symbol.
cv::Vec4d spill_of(const Shades& shades, const Plane& beliefs) {
  cv::Matx44d normal = cv::Matx44d::eye() * 1e-3;
  cv::Vec4d right;
  for (int y = 0; y < beliefs.side; ++y) {
    for (int x = 0; x < beliefs.side; ++x) {
      if (shades.known.at(x, y) == 0) continue;
      const auto near = neighbours_of(beliefs, x, y);
      const cv::Vec4d row(near.own, near.sides, near.corners, 1);
      normal += row * row.t();
      right += row * shades.shade.at(x, y);
    }
  }
  return normal.solve(right, cv::DECOMP_CHOLESKY);
}

// One round: beliefs from shades less what the neighbours, as believed before, shed.
Plane likelihoods(const Shades& shades, const Plane& beliefs) {
  const auto spill = spill_of(shades, beliefs);
  const double own = std::max(0.2, spill[0]);
  Plane clean{beliefs.side};
  std::vector<double> off;
  for (int y = 0; y < beliefs.side; ++y) {
    for (int x = 0; x < beliefs.side; ++x) {
      const auto near = neighbours_of(beliefs, x, y);
      clean.at(x, y) =
          (shades.shade.at(x, y) - spill[1] * near.sides - spill[2] * near.corners - spill[3]) / own;
      if (shades.known.at(x, y) != 0) off.push_back(std::abs(std::abs(clean.at(x, y)) - 1));
    }
  }
  const double deviation = std::max(2 * kLeastNoise, 1.48 * median(std::move(off)));
  for (auto& value : clean.values) value = 2 * value / (deviation * deviation);
  return clean;
}

}  // namespace

SoftGrid sample_grid(const cv::Mat& levels, const GridMap& map) {
  const Shades shades = shades_of(module_levels(levels, map));
  Plane beliefs{map.side()};
  for (std::size_t i = 0; i < beliefs.values.size(); ++i)
    beliefs.values[i] = std::tanh(2 * shades.shade.values[i]);
  Plane told{map.side()};
  for (int round = 0; round < kRounds; ++round) {
    told = likelihoods(shades, beliefs);
    for (std::size_t i = 0; i < told.values.size(); ++i) beliefs.values[i] = std::tanh(told.values[i] / 2);
  }
  SoftGrid grid{map.side(), {}};
  grid.dark.reserve(told.values.size());
  constexpr double kMost = kMostLikelihood;
  for (std::size_t i = 0; i < told.values.size(); ++i) {
    const double dark = std::clamp(-told.values[i], -kMost, kMost);
    grid.dark.push_back(shades.known.values[i] == 0 ? 0.0F : static_cast<float>(dark));
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
