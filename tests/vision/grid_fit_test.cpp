// Grids laid over modelled labels, against where the modules truly lie.
#include "vision/grid_fit.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <iostream>

#include "vision/cut_label.h"
#include "vision/grid_reader.h"

namespace loadlight::vision_tests {
namespace {

constexpr int kLabels = 10;

// The share of modules' corners that lie within a third of a module of where they truly are.
double corners_met(const vision::GridMap& map, const CutLabel& cut) {
  const auto& truth = cut.label.truth;
  if (map.side() != truth.side()) return 0;
  int met = 0;
  for (int v = 0; v <= truth.side(); ++v) {
    for (int u = 0; u <= truth.side(); ++u) {
      const auto laid = map.at(u, v);
      const auto real = truth.node(u, v);
      met +=
          std::hypot(laid.x + cut.place.x - real.x, laid.y + cut.place.y - real.y) < truth.harms.module / 3;
    }
  }
  return met / std::pow(truth.side() + 1, 2);
}

struct Floor final {
  const char* name;
  LabelHarms harms;
  int least;  // of kLabels whose likeliest grid has nineteen corners in twenty in their place; may only rise
};

TEST_CASE("The likeliest grid lies where the modules are, however the label is bent") {
  const Floor floors[] = {
      {"in good sight", {}, 10},
      {"curled by 85 degrees", {.curl = 85}, 10},
      {"curled by 100 degrees", {.curl = 100}, 8},
      {"curled by 85 degrees, receding", {.curl = 85, .deep = true}, 10},
      {"curled by 100 degrees, receding", {.curl = 100, .deep = true}, 8},
      {"wrinkled by 0.35 modules", {.wrinkle = 0.35}, 10},
      {"tilted by 40 degrees", {.tilt = 40}, 10},
      {"a tenth covered", {.tape = 0.1}, 9},
      {"out of focus by 2 pixels", {.defocus = 2}, 9},
  };
  for (const auto& floor : floors) {
    int laid = 0;
    for (int i = 0; i < kLabels; ++i) {
      const auto cut = cut_label(floor.harms, 70'000 + i);
      const auto grids = vision::lay_grids(cut.view(), cut.spots(), {});
      laid += !grids.empty() && corners_met(grids.front().map, cut) > 0.95;
    }
    std::cout << "grids laid, " << floor.name << ": " << laid << " of " << kLabels << "\n";
    INFO(floor.name);
    CHECK(laid >= floor.least);
  }
}

TEST_CASE("A grid is laid from its corners alone, known to a third of a module") {
  int laid = 0;
  for (int i = 0; i < kLabels; ++i) {
    const auto cut = cut_label({.wrinkle = 0.2, .glare = 0.1}, 71'000 + i);
    cv::RNG rng(static_cast<std::uint64_t>(i));
    port::Corners corners = cut.corners();
    for (auto& corner : corners) corner = {corner.x + rng.gaussian(1.2), corner.y + rng.gaussian(1.2)};
    const auto grids = vision::lay_grids_at(cut.view(), corners, cut.label.truth.side(), {});
    laid += !grids.empty() && corners_met(grids.front().map, cut) > 0.95;
  }
  CHECK(laid >= 9);
}

TEST_CASE("Fewer than three known points, or three in a line, lay no grid") {
  const std::vector<vision::EdgePoint> edges;
  const std::vector<vision::LatticePoint> line{{{0, 0}, 0, 0}, {{40, 0}, 10, 0}, {{80, 0}, 20, 0}};
  CHECK_FALSE(vision::lay_grid(edges, {}, 21, {}));
  CHECK_FALSE(vision::lay_grid(edges, line, 21, {}));
}

}  // namespace
}  // namespace loadlight::vision_tests
