#include "vision/lattice_growth.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loadlight::vision {
namespace {

constexpr double kRoom = 5;              // base modules around the symbol that the field covers
constexpr double kCell = 2.5;            // base modules
constexpr double kFarthestGuess = 0.2;   // modules: what a cell may be unsure by to be taken in
constexpr double kEdgeDeviation = 0.15;  // modules an edge may lie off its line
constexpr double kShared = 4;            // edges that stem from one side of one module
constexpr double kOutlier = 0.22;        // modules; edges farther off hardly count
constexpr int kMostRounds = 24;
constexpr int kLastRounds = 2;  // after the last cell was taken in

}  // namespace

double LatticeGrowth::Cell::trust() const {
  return weight > 0 ? std::clamp((agreement / weight - 0.1) / 0.4, 0.0, 1.0) : 0;
}

LatticeGrowth::LatticeGrowth(std::span<const EdgePoint> edges, std::span<const LatticePoint> known, int side,
                             const LatticeFrame& base, const GridFitOptions& options)
    : base_(base),
      options_(options),
      side_(side),
      from_(-kRoom),
      to_(side + kRoom),
      cells_across_(static_cast<int>((to_ - from_) / kCell) + 1),
      grid_(from_, to_, options.spacing),
      known_(known.begin(), known.end()),
      cells_(static_cast<std::size_t>(cells_across_ * cells_across_)),
      across_(static_cast<std::size_t>(grid_.controls())),
      along_(across_) {
  for (auto& point : known_) point.at = base_.modules_at(point.at);
  for (const auto& edge : edges) {
    const auto at = base_.modules_at(edge.at);
    if (!grid_.covers(at)) continue;
    const port::PixelPoint towards{edge.towards.x * base_.right.x + edge.towards.y * base_.right.y,
                                   edge.towards.x * base_.down.x + edge.towards.y * base_.down.y};
    edges_.push_back({at, towards, grid_.taps(at), edge.weight, cell_of(at)});
  }
}

std::size_t LatticeGrowth::cell_of(port::PixelPoint base) const {
  const int column = static_cast<int>((base.x - from_) / kCell);
  const int row = static_cast<int>((base.y - from_) / kCell);
  return static_cast<std::size_t>(row * cells_across_ + column);
}

port::PixelPoint LatticeGrowth::middle_of(std::size_t cell) const {
  const auto index = static_cast<int>(cell);
  return {from_ + (index % cells_across_ + 0.5) * kCell, from_ + (index / cells_across_ + 0.5) * kCell};
}

port::PixelPoint LatticeGrowth::displaced(port::PixelPoint base) const {
  const port::PixelPoint within{std::clamp(base.x, from_, to_ - 1e-6), std::clamp(base.y, from_, to_ - 1e-6)};
  const auto taps = grid_.taps(within);
  return {base.x + value_of(taps, across_, grid_.columns()),
          base.y + value_of(taps, along_, grid_.columns())};
}

bool LatticeGrowth::inside(port::PixelPoint modules, double margin) const {
  return modules.x > -margin && modules.x < side_ + margin && modules.y > -margin &&
         modules.y < side_ + margin;
}

// The covector of an edge is carried over to true modules by the inverse of the displacement's Jacobian.
std::optional<LatticeGrowth::OnLine> LatticeGrowth::line_of(const Edge& edge) const {
  const int columns = grid_.columns();
  const double u = edge.at.x + value_of(edge.taps, across_, columns);
  const double v = edge.at.y + value_of(edge.taps, along_, columns);
  if (!inside({u, v}, 0.5)) return std::nullopt;
  const auto by_x = grid_.slope_across(edge.at);
  const auto by_y = grid_.slope_along(edge.at);
  const double ux = 1 + value_of(by_x, across_, columns);
  const double uy = value_of(by_y, across_, columns);
  const double vx = value_of(by_x, along_, columns);
  const double vy = 1 + value_of(by_y, along_, columns);
  const double area = ux * vy - uy * vx;
  if (area < 0.05) return std::nullopt;
  const double steep_u = std::abs(edge.towards.x * vy - edge.towards.y * vx);
  const double steep_v = std::abs(edge.towards.y * ux - edge.towards.x * uy);
  if (steep_u > 2 * steep_v) return OnLine{true, std::round(u), std::round(u) - u};
  if (steep_v > 2 * steep_u) return OnLine{false, std::round(v), std::round(v) - v};
  return std::nullopt;
}

// How well the edges of each cell lie on lines: a cosine, 1 on a line and -1 half way between two.
void LatticeGrowth::judge() {
  for (auto& cell : cells_) cell.agreement = cell.weight = 0;
  for (const auto& edge : edges_) {
    Cell& cell = cells_[edge.cell];
    if (!cell.grown) continue;
    const auto on = line_of(edge);
    if (!on) continue;
    cell.weight += edge.weight;
    cell.agreement += edge.weight * std::cos(2 * std::numbers::pi * on->residual);
  }
}

void LatticeGrowth::fit() {
  FieldFit across{grid_, options_.bend};
  FieldFit along{grid_, options_.bend};
  for (const auto& point : known_) {
    const auto taps = grid_.taps(point.at);
    const double weight = 1 / (point.deviation * point.deviation);
    across.add(taps, point.u - point.at.x, weight);
    along.add(taps, point.v - point.at.y, weight);
  }
  for (const auto& edge : edges_) {
    const Cell& cell = cells_[edge.cell];
    if (!cell.grown) continue;
    const auto on = line_of(edge);
    if (!on) continue;
    const double off = on->residual / kOutlier;
    const double weight = edge.weight * cell.trust() /
                          ((1 + off * off) * (1 + off * off) * kEdgeDeviation * kEdgeDeviation * kShared);
    if (on->across) {
      across.add(edge.taps, on->line - edge.at.x, weight);
    } else {
      along.add(edge.taps, on->line - edge.at.y, weight);
    }
  }
  across.solve();
  along.solve();
  across_ = across.controls();
  along_ = along.controls();
  unsure_.assign(cells_.size(), 1);
  for (std::size_t i = 0; i < cells_.size(); ++i) {
    if (cells_[i].grown || !borders_grown(i)) continue;
    const auto middle = middle_of(i);
    if (!grid_.covers(middle)) continue;
    const auto taps = grid_.taps(middle);
    unsure_[i] = std::max(across.uncertainty(taps), along.uncertainty(taps));
  }
}

bool LatticeGrowth::borders_grown(std::size_t cell) const {
  const int column = static_cast<int>(cell) % cells_across_;
  const int row = static_cast<int>(cell) / cells_across_;
  for (int y = std::max(0, row - 1); y <= std::min(cells_across_ - 1, row + 1); ++y) {
    for (int x = std::max(0, column - 1); x <= std::min(cells_across_ - 1, column + 1); ++x) {
      if (cells_[static_cast<std::size_t>(y * cells_across_ + x)].grown) return true;
    }
  }
  return false;
}

// Takes in what is sure enough by now.
bool LatticeGrowth::spread() {
  bool any = false;
  for (std::size_t i = 0; i < cells_.size(); ++i) {
    if (cells_[i].grown || unsure_[i] > kFarthestGuess) continue;
    if (!inside(displaced(middle_of(i)), 1)) continue;
    cells_[i].grown = any = true;
  }
  return any;
}

void LatticeGrowth::grow() {
  for (const auto& point : known_) {
    if (grid_.covers(point.at)) cells_[cell_of(point.at)].grown = point.deviation < 0.5;
  }
  std::erase_if(known_, [&](const LatticePoint& point) { return !grid_.covers(point.at); });
  fit();
  int left = kLastRounds;
  for (int round = 0; round < kMostRounds && left > 0; ++round) {
    if (!spread()) --left;
    judge();
    fit();
  }
  judge();
}

double LatticeGrowth::coherence() const {
  double agreement = 0;
  double weight = 1e-9;
  for (const auto& cell : cells_) {
    agreement += cell.agreement;
    weight += cell.weight;
  }
  return agreement / weight;
}

double LatticeGrowth::reached() const {
  int all = 0;
  int good = 0;
  for (std::size_t i = 0; i < cells_.size(); ++i) {
    if (!inside(displaced(middle_of(i)), 0)) continue;
    ++all;
    good += cells_[i].grown && cells_[i].trust() > 0.5;
  }
  return all > 0 ? static_cast<double>(good) / all : 0;
}

// Newton's iteration towards the base point that is displaced onto (u, v).
port::PixelPoint LatticeGrowth::pixel_of(double u, double v) const {
  port::PixelPoint base{u, v};
  for (int round = 0; round < 12; ++round) {
    const auto here = displaced(base);
    const double off_u = u - here.x;
    const double off_v = v - here.y;
    if (std::hypot(off_u, off_v) < 1e-3) break;
    constexpr double kStep = 0.05;
    const auto right = displaced({base.x + kStep, base.y});
    const auto below = displaced({base.x, base.y + kStep});
    const double ux = (right.x - here.x) / kStep;
    const double vx = (right.y - here.y) / kStep;
    const double uy = (below.x - here.x) / kStep;
    const double vy = (below.y - here.y) / kStep;
    const double area = std::max(0.1, ux * vy - uy * vx);
    base.x += std::clamp((off_u * vy - off_v * uy) / area, -2.0, 2.0);
    base.y += std::clamp((off_v * ux - off_u * vx) / area, -2.0, 2.0);
  }
  return base_.at(base.x, base.y);
}

}  // namespace loadlight::vision
