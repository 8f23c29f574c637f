// The growing of a lattice from where it is known over all edges it explains.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "vision/grid_fit.h"
#include "vision/smooth_field.h"

namespace loadlight::vision {

// One use: construct, `grow`, then ask. Works in the modules of a flat `base`: a point's true module
// coordinates are its base coordinates and a smooth displacement.
class LatticeGrowth final {
 public:
  LatticeGrowth(std::span<const EdgePoint> edges, std::span<const LatticePoint> known, int side,
                const LatticeFrame& base, const GridFitOptions& options);

  void grow();

  // The pixel of module coordinates (u, v).
  port::PixelPoint pixel_of(double u, double v) const;

  double coherence() const;
  double reached() const;

 private:
  enum class Tells : std::uint8_t { Nothing, U, V };
  struct Edge final {
    port::PixelPoint at;       // base modules
    port::PixelPoint towards;  // as a covector, base modules
    SplineTaps taps;
    double weight = 0;
    std::size_t cell = 0;
    Tells tells = Tells::Nothing;  // which coordinate the line it lies on has in common
    double line = 0;               // that line's, whole
    double residual = 0;           // modules from it
  };
  // A square of base modules that is taken in as a whole.
  struct Cell final {
    bool grown = false;
    double agreement = 0;  // sum of weights times the cosine of the residual
    double weight = 0;     // sum of weights
    double unsure = 1;     // modules; 1 where not yet asked
    double trust() const;
  };

  void take(std::span<const EdgePoint> edges);
  void find_lines();
  void assign(Edge& edge, const LatticeFrame& flat);
  void fit();
  void ask_frontier(const FieldFit& across, const FieldFit& along);
  bool spread();
  LatticeFrame flat_at(port::PixelPoint base) const;
  port::PixelPoint displaced(port::PixelPoint base) const;
  std::size_t cell_of(port::PixelPoint base) const;
  port::PixelPoint middle_of(std::size_t cell) const;
  bool borders_grown(std::size_t cell) const;
  bool inside(port::PixelPoint modules, double margin) const;

  LatticeFrame base_;
  GridFitOptions options_;
  int side_;
  double from_;
  double to_;
  int cells_across_;
  SplineGrid grid_;
  std::vector<Edge> edges_;
  double edge_weight_ = 1;           // 1 / variance of one edge of weight 1
  std::vector<LatticePoint> known_;  // `at` in base modules
  std::vector<Cell> cells_;
  std::vector<double> across_;  // controls of u's displacement
  std::vector<double> along_;   // and of v's
};

}  // namespace loadlight::vision
