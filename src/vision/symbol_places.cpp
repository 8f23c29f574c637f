#include "vision/symbol_places.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace loadlight::vision {
namespace {

// From finder to finder in modules: 14 for version 1; 160 for version 40 is 170 - 7, a little is left for
// tilt.
constexpr double kLeastArm = 10;
constexpr double kLongestArm = 165;
constexpr double kReach = 3.5;          // modules from a finder's middle to the symbol's edge
constexpr double kModulesDiffer = 1.7;  // how much the modules of one symbol's finders may differ
constexpr double kArmsDiffer = 1.8;
constexpr double kLargestCosine = 0.6;  // of the corner's angle: 53 to 127 degrees

struct Place final {
  Quadrilateral corners;
  double oddness = 0;  // 0 for a square seen squarely
};

struct Arm final {
  double x = 0;
  double y = 0;
  double length() const { return std::hypot(x, y); }
};

Arm arm_between(const FinderSpot& from, const FinderSpot& to) {
  return {to.centre.x - from.centre.x, to.centre.y - from.centre.y};
}

double ratio(double a, double b) {
  return std::max(a, b) / std::max(1e-9, std::min(a, b));
}

bool can_be_arm(const FinderSpot& from, const FinderSpot& to) {
  const double length = arm_between(from, to).length();
  const double module = (from.module + to.module) / 2;
  return ratio(from.module, to.module) < kModulesDiffer && length > kLeastArm * module &&
         length < kLongestArm * module;
}

// The outline half a finder further out than the three middles, the fourth corner opposite the first.
Quadrilateral outline(const FinderSpot& corner, Arm right, Arm down) {
  const double reach_right = kReach * corner.module / right.length();
  const double reach_down = kReach * corner.module / down.length();
  const auto at = [&](double along_right, double along_down) {
    return port::PixelPoint{corner.centre.x + right.x * along_right + down.x * along_down,
                            corner.centre.y + right.y * along_right + down.y * along_down};
  };
  return clockwise({at(-reach_right, -reach_down), at(1 + reach_right, -reach_down),
                    at(1 + reach_right, 1 + reach_down), at(-reach_right, 1 + reach_down)});
}

std::optional<Place> place_of(const FinderSpot& corner, const FinderSpot& one, const FinderSpot& other) {
  const Arm right = arm_between(corner, one);
  const Arm down = arm_between(corner, other);
  const double arms = ratio(right.length(), down.length());
  const double cosine = std::abs(right.x * down.x + right.y * down.y) / (right.length() * down.length());
  if (arms > kArmsDiffer || cosine > kLargestCosine || ratio(one.module, other.module) > kModulesDiffer) {
    return std::nullopt;
  }
  const double modules = ratio(one.module, other.module) - 1 + ratio(one.module, corner.module) - 1;
  // Of two equally square ones the smaller: large ones join finders of neighbours.
  const double size = right.length() / corner.module / kLongestArm;
  return Place{outline(corner, right, down), arms - 1 + cosine + modules + size};
}

// The spots that may lie at the other end of an arm from spot `i`, the nearest first.
std::vector<std::size_t> ends_from(std::span<const FinderSpot> spots, std::size_t i) {
  constexpr std::size_t kMostEnds = 8;
  std::vector<std::size_t> ends;
  for (std::size_t j = 0; j < spots.size(); ++j) {
    if (j != i && can_be_arm(spots[i], spots[j])) ends.push_back(j);
  }
  std::sort(ends.begin(), ends.end(), [&](std::size_t a, std::size_t b) {
    return arm_between(spots[i], spots[a]).length() < arm_between(spots[i], spots[b]).length();
  });
  ends.resize(std::min(ends.size(), kMostEnds));
  return ends;
}

std::vector<Place> all_places(std::span<const FinderSpot> spots) {
  std::vector<Place> places;
  for (std::size_t i = 0; i < spots.size(); ++i) {
    const auto ends = ends_from(spots, i);
    for (std::size_t a = 0; a < ends.size(); ++a) {
      for (std::size_t b = a + 1; b < ends.size(); ++b) {
        if (auto place = place_of(spots[i], spots[ends[a]], spots[ends[b]])) places.push_back(*place);
      }
    }
  }
  return places;
}

}  // namespace

std::vector<Quadrilateral> likely_places(std::span<const FinderSpot> spots, std::size_t most) {
  auto places = all_places(spots);
  std::stable_sort(places.begin(), places.end(),
                   [](const auto& a, const auto& b) { return a.oddness < b.oddness; });
  std::vector<Quadrilateral> likely;
  for (const auto& place : places) {
    const auto same = [&](const Quadrilateral& other) { return same_place(other, place.corners); };
    if (likely.size() < most && std::none_of(likely.begin(), likely.end(), same))
      likely.push_back(place.corners);
  }
  return likely;
}

}  // namespace loadlight::vision
