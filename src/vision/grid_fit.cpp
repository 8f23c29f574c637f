#include "vision/grid_fit.h"

#include <cmath>
#include <opencv2/core.hpp>

#include "vision/lattice_growth.h"

namespace loadlight::vision {
namespace {

// The flat lattice nearest to all known points.
std::optional<LatticeFrame> flat_lattice(std::span<const LatticePoint> known) {
  cv::Matx33d normal = cv::Matx33d::zeros();
  cv::Vec3d x;
  cv::Vec3d y;
  for (const auto& point : known) {
    const cv::Vec3d row(1, point.u, point.v);
    const double weight = 1 / (point.deviation * point.deviation);
    normal += weight * row * row.t();
    x += weight * point.at.x * row;
    y += weight * point.at.y * row;
  }
  if (cv::determinant(normal) < 1e-6) return std::nullopt;
  const cv::Vec3d a = normal.solve(x, cv::DECOMP_CHOLESKY);
  const cv::Vec3d b = normal.solve(y, cv::DECOMP_CHOLESKY);
  const LatticeFrame frame{{a[0], b[0]}, {a[1], b[1]}, {a[2], b[2]}};
  if (!(frame.determinant() > 0.5)) return std::nullopt;  // under a pixel, or seen from behind
  return frame;
}

}  // namespace

std::optional<LaidGrid> lay_grid(std::span<const EdgePoint> edges, std::span<const LatticePoint> known,
                                 int side, const GridFitOptions& options) {
  const auto base = flat_lattice(known);
  if (!base || side < 1) return std::nullopt;
  LatticeGrowth growth{edges, known, side, *base, options};
  growth.grow();
  std::vector<port::PixelPoint> nodes;
  nodes.reserve(static_cast<std::size_t>((side + 1) * (side + 1)));
  for (int v = 0; v <= side; ++v) {
    for (int u = 0; u <= side; ++u) nodes.push_back(growth.pixel_of(u, v));
  }
  return LaidGrid{GridMap{side, std::move(nodes)}, growth.coherence(), growth.reached()};
}

}  // namespace loadlight::vision
