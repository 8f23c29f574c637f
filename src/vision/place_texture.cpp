#include "vision/place_texture.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace loadlight::vision {
namespace {

constexpr int kLines = 12;       // each way
constexpr int kSamples = 96;     // along a line
constexpr double kHysteresis = 0.15;  // of the line's spread, by which a change must pass the mean

port::PixelPoint between(port::PixelPoint a, port::PixelPoint b, double share) {
  return {a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share};
}

int level_at(port::GrayView view, port::PixelPoint point) {
  const int x = std::clamp(static_cast<int>(point.x), 0, view.width - 1);
  const int y = std::clamp(static_cast<int>(point.y), 0, view.height - 1);
  return view.pixels[static_cast<std::ptrdiff_t>(y) * view.stride + x];
}

int changes_along(port::GrayView view, port::PixelPoint from, port::PixelPoint to) {
  std::array<int, kSamples> levels{};
  double sum = 0;
  for (int i = 0; i < kSamples; ++i) {
    levels[static_cast<std::size_t>(i)] = level_at(view, between(from, to, (i + 0.5) / kSamples));
    sum += levels[static_cast<std::size_t>(i)];
  }
  const auto [least, most] = std::minmax_element(levels.begin(), levels.end());
  const double mean = sum / kSamples;
  const double slack = kHysteresis * (*most - *least);
  int changes = 0;
  int side = 0;
  for (const int level : levels) {
    const int now = level > mean + slack ? 1 : level < mean - slack ? -1 : side;
    changes += side != 0 && now != side;
    side = now;
  }
  return changes;
}

}  // namespace

double changes_across(port::GrayView view, const Quadrilateral& place) {
  int changes = 0;
  for (int line = 0; line < kLines; ++line) {
    const double share = (line + 0.5) / kLines;
    changes += changes_along(view, between(place[0], place[3], share), between(place[1], place[2], share));
    changes += changes_along(view, between(place[0], place[1], share), between(place[3], place[2], share));
  }
  return static_cast<double>(changes) / (2 * kLines);
}

}  // namespace loadlight::vision
