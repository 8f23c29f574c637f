#include "vision/pair_places.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "vision/place_texture.h"

namespace loadlight::vision {
namespace {

constexpr std::size_t kCrowd = 80;  // spots: among so many, pairs are chance
constexpr std::size_t kMostEnds = 3;
// From finder to finder in modules; 50 is the diagonal of version 8.
constexpr double kLeastApart = 10;
constexpr double kMostApart = 55;
constexpr double kModulesDiffer = 1.5;
constexpr double kReach = 3.5;      // modules from a finder's middle to the symbol's edge
constexpr double kLeastPrint = 10;  // changes across; clutter that lies right often has 8

struct Vector final {
  double x = 0;
  double y = 0;
};

struct Place final {
  Quadrilateral corners;
  double print = 0;
};

// The square of which `middle` is the middle, with half a side along `way` (of length 1).
Quadrilateral square(port::PixelPoint middle, Vector way, double half) {
  const auto at = [&](double along, double across) {
    return port::PixelPoint{middle.x + half * (along * way.x - across * way.y),
                            middle.y + half * (along * way.y + across * way.x)};
  };
  return clockwise({at(-1, -1), at(1, -1), at(1, 1), at(-1, 1)});
}

std::array<Quadrilateral, 3> squares_of(const FinderSpot& one, const FinderSpot& other) {
  const Vector arm{other.centre.x - one.centre.x, other.centre.y - one.centre.y};
  const double length = std::hypot(arm.x, arm.y);
  const Vector way{arm.x / length, arm.y / length};
  const double reach = kReach * (one.module + other.module) / 2;
  const port::PixelPoint middle{one.centre.x + arm.x / 2, one.centre.y + arm.y / 2};
  const double half = length / 2;
  const double turn = std::sqrt(0.5);
  const Vector askew{turn * (way.x - way.y), turn * (way.x + way.y)};
  return {square({middle.x - half * way.y, middle.y + half * way.x}, way, half + reach),
          square({middle.x + half * way.y, middle.y - half * way.x}, way, half + reach),
          square(middle, askew, half * turn + reach)};
}

bool lies_in(port::GrayView view, const Quadrilateral& place) {
  return std::all_of(place.begin(), place.end(), [&](const auto& corner) {
    return corner.x >= 0 && corner.y >= 0 && corner.x < view.width && corner.y < view.height;
  });
}

double distance(const FinderSpot& one, const FinderSpot& other) {
  return std::hypot(one.centre.x - other.centre.x, one.centre.y - other.centre.y);
}

bool can_be_pair(const FinderSpot& one, const FinderSpot& other) {
  const double module = (one.module + other.module) / 2;
  const double apart = distance(one, other);
  return std::max(one.module, other.module) < kModulesDiffer * std::min(one.module, other.module) &&
         apart > kLeastApart * module && apart < kMostApart * module;
}

// The nearest that come after it in the list, so that each pair is met once.
std::vector<const FinderSpot*> ends_from(std::span<const FinderSpot> spots, std::size_t i) {
  std::vector<const FinderSpot*> ends;
  for (std::size_t k = i + 1; k < spots.size(); ++k) {
    if (can_be_pair(spots[i], spots[k])) ends.push_back(&spots[k]);
  }
  std::sort(ends.begin(), ends.end(), [&](const FinderSpot* a, const FinderSpot* b) {
    return distance(spots[i], *a) < distance(spots[i], *b);
  });
  ends.resize(std::min(ends.size(), kMostEnds));
  return ends;
}

}  // namespace

std::vector<Quadrilateral> pair_places(std::span<const FinderSpot> spots, port::GrayView view) {
  if (spots.size() > kCrowd) return {};
  std::vector<Place> places;
  for (std::size_t i = 0; i < spots.size(); ++i) {
    for (const FinderSpot* end : ends_from(spots, i)) {
      for (const auto& square : squares_of(spots[i], *end)) {
        if (!lies_in(view, square)) continue;
        const double print = changes_across(view, square);
        if (print >= kLeastPrint) places.push_back({square, print});
      }
    }
  }
  std::stable_sort(places.begin(), places.end(),
                   [](const Place& a, const Place& b) { return a.print > b.print; });
  std::vector<Quadrilateral> corners;
  for (const auto& place : places) corners.push_back(place.corners);
  return corners;
}

}  // namespace loadlight::vision
