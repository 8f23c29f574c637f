#include "vision/timing_count.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "vision/levels.h"

namespace loadlight::vision {
namespace {

constexpr int kStepsPerModule = 5;

// A curve that leaves one finder as its own axis points and enters the other so. (Cubic Hermite.)
struct Path final {
  port::PixelPoint from;
  port::PixelPoint to;
  port::PixelPoint leaving;
  port::PixelPoint entering;

  port::PixelPoint at(double t) const {
    const double t2 = t * t;
    const double t3 = t2 * t;
    const double a = 2 * t3 - 3 * t2 + 1;
    const double b = t3 - 2 * t2 + t;
    const double c = t3 - t2;
    return {from.x * a + leaving.x * b + to.x * (1 - a) + entering.x * c,
            from.y * a + leaving.y * b + to.y * (1 - a) + entering.y * c};
  }
};

port::PixelPoint scaled(port::PixelPoint d, double length) {
  const double factor = length / std::hypot(d.x, d.y);
  return {d.x * factor, d.y * factor};
}

Path path_between(const LatticeFrame& first, const LatticeFrame& last, bool across, double lane) {
  // From the middle of the dark ring's far side to that of the other's near side.
  const auto from = across ? first.at(6.5, lane) : first.at(lane, 6.5);
  const auto to = across ? last.at(0.5, lane) : last.at(lane, 0.5);
  const double chord = std::hypot(to.x - from.x, to.y - from.y);
  return {from, to, scaled(across ? first.right : first.down, chord),
          scaled(across ? last.right : last.down, chord)};
}

// Changes between dark and light along the path, against the mean of what lies near.
int changes_along(const cv::Mat& levels, const Path& path, int steps) {
  std::vector<double> sums{0};
  std::vector<double> seen;
  for (int i = 0; i < steps; ++i) {
    const auto at = path.at((i + 0.5) / steps);
    seen.push_back(level_at(levels, at.x, at.y));
    sums.push_back(sums.back() + seen.back());
  }
  const auto [low, high] = std::minmax_element(seen.begin(), seen.end());
  const double slack = (*high - *low) * 0.08;
  int changes = 0;
  bool dark = true;
  for (int i = 0; i < steps; ++i) {
    const auto begin = static_cast<std::size_t>(std::max(0, i - 2 * kStepsPerModule));
    const auto end = static_cast<std::size_t>(std::min(steps, i + 2 * kStepsPerModule + 1));
    const double mean = (sums[end] - sums[begin]) / static_cast<double>(end - begin);
    const double level = seen[static_cast<std::size_t>(i)];
    if (dark ? level > mean + slack : level < mean - slack) {
      dark = !dark;
      ++changes;
    }
  }
  return changes;
}

}  // namespace

std::vector<int> timing_sides(const cv::Mat& levels, const LatticeFrame& first, const LatticeFrame& last,
                              bool across, double lane) {
  std::map<int, int> votes;
  for (const double off : {-0.6, -0.3, 0.0, 0.3, 0.6}) {
    const Path path = path_between(first, last, across, lane + off);
    const double module = (first.module() + last.module()) / 2;
    const double length = std::hypot(path.to.x - path.from.x, path.to.y - path.from.y);
    const int changes =
        changes_along(levels, path, std::max(8, static_cast<int>(length / module * kStepsPerModule)));
    // Dark, light, dark ... dark: as many changes as modules from the one ring to the other, both excluded,
    // and one more.
    const int side = changes + 13;
    if (side >= 21 && side <= 177 && (side - 17) % 4 == 0) ++votes[side];
  }
  std::vector<int> sides;
  for (const auto& [side, count] : votes) sides.push_back(side);
  std::stable_sort(sides.begin(), sides.end(), [&](int a, int b) { return votes[a] > votes[b]; });
  return sides;
}

}  // namespace loadlight::vision
