// Lays a symbol's lattice over its picture without knowing any of its data: the edges of modules lie on
// lattice lines. Starting where the lattice is known it grows as far as the lattice found so far foretells
// the next line to a fraction of a module, so that no drift ever locks onto a neighbouring line.
#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <vector>

#include "vision/edge_points.h"
#include "vision/grid_map.h"
#include "vision/lattice_frame.h"

namespace loadlight::vision {

// A point whose module coordinates are known.
struct LatticePoint final {
  port::PixelPoint at;
  double u = 0;
  double v = 0;
  double deviation = 0.25;  // how well it is known, modules
};

using Deadline = std::chrono::steady_clock::time_point;

struct GridFitOptions final {
  double bend = 0.04;  // second derivative expected of the lattice, modules per module squared
  double spacing = 5;  // modules between the controls of the field
  Deadline deadline = Deadline::max();  // the lattice stays as it is then
};

struct LaidGrid final {
  GridMap map;
  double coherence = 0;  // of edges with the lattice's lines: 1 for all on a line, about 0 for chance
  double reached = 0;    // share of the symbol's area where edges were found to lie on the lattice
};

// At least three points, not on one line. Nothing if no lattice comes of it.
std::optional<LaidGrid> lay_grid(std::span<const EdgePoint> edges, std::span<const LatticePoint> known,
                                 int side, const GridFitOptions& options);

}  // namespace loadlight::vision
