#include <algorithm>
#include <array>
#include <cmath>

#include "vision/quadrilateral.h"
#include "vision/symbol_anchors.h"

namespace loadlight::vision {
namespace {

constexpr double kSureEnough = 0.45;  // modules: just sure enough to start a lattice there
constexpr double kMoved = 0.7;        // modules

// Whether the finders of a set lie where the symbol is known to lie.
bool fits(const AnchorSet& set, const port::Corners& corners, std::optional<int> side) {
  if (side && set.side != *side) return false;
  return std::all_of(set.known.begin(), set.known.end(), [&](const LatticePoint& point) {
    const auto middle = centre_of(corners);
    // A quarter nearer to the middle: the corners are not known that well.
    return contains(corners,
                    {middle.x + (point.at.x - middle.x) * 0.75, middle.y + (point.at.y - middle.y) * 0.75});
  });
}

AnchorSet pinned(const port::Corners& corners, int side, double off_u, double off_v) {
  const std::array<port::PixelPoint, 4> places{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
  AnchorSet set{side, {}, 0, 1};
  for (std::size_t i = 0; i < 4; ++i) {
    set.known.push_back({corners[i], places[i].x * side + off_u, places[i].y * side + off_v, kSureEnough});
  }
  return set;
}

}  // namespace

std::vector<AnchorSet> anchors_in(const port::Corners& corners, std::optional<int> side,
                                  std::span<const AnchorSet> by_finders) {
  std::vector<AnchorSet> sets;
  for (const auto& set : by_finders) {
    if (fits(set, corners, side)) sets.push_back(set);
  }
  const auto outline = clockwise(corners);
  const std::vector<int> sides = side ? std::vector{*side} : std::vector{33, 37, 29, 41, 25};
  constexpr std::array<port::PixelPoint, 5> kOffsets{{{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}}};
  for (const auto& off : kOffsets) {
    for (const int modules : sides) {
      sets.push_back(pinned(outline, modules, off.x * kMoved, off.y * kMoved));
    }
  }
  return sets;
}

}  // namespace loadlight::vision
