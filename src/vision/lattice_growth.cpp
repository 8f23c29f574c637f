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
constexpr double kStraight = 2;          // how much steeper one way than the other an edge must be
constexpr double kMostEdges = 1.6;       // a module; more tell nothing new
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
  take(edges);
}

// At most so many of the edges, evenly.
void LatticeGrowth::take(std::span<const EdgePoint> edges) {
  for (const auto& edge : edges) {
    const auto at = base_.modules_at(edge.at);
    if (!grid_.covers(at)) continue;
    const port::PixelPoint towards{edge.towards.x * base_.right.x + edge.towards.y * base_.right.y,
                                   edge.towards.x * base_.down.x + edge.towards.y * base_.down.y};
    edges_.push_back({at, towards, {}, edge.weight, cell_of(at)});
  }
  const double most = kMostEdges * side_ * side_;
  const auto every =
      static_cast<std::size_t>(std::max(1.0, std::ceil(static_cast<double>(edges_.size()) / most)));
  for (std::size_t i = 0; i * every < edges_.size(); ++i) edges_[i] = edges_[i * every];
  edges_.resize(edges_.size() / every);
  for (auto& edge : edges_) edge.taps = grid_.taps(edge.at);
  const double shared =
      std::max(1.0, base_.module() / static_cast<double>(every));  // stem from one module's side
  edge_weight_ = 1 / (kEdgeDeviation * kEdgeDeviation * shared);
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

// The displacement around a point taken as flat: from base modules to true ones.
LatticeFrame LatticeGrowth::flat_at(port::PixelPoint base) const {
  const int columns = grid_.columns();
  const auto by_x = grid_.slope_across(base);
  const auto by_y = grid_.slope_along(base);
  const port::PixelPoint right{1 + value_of(by_x, across_, columns), value_of(by_x, along_, columns)};
  const port::PixelPoint down{value_of(by_y, across_, columns), 1 + value_of(by_y, along_, columns)};
  const auto here = displaced(base);
  const LatticeFrame flat{here, right, down};
  return flat.moved_to(-base.x, -base.y);
}

// The covector of an edge is carried over to true modules by the inverse of the displacement's Jacobian.
void LatticeGrowth::assign(Edge& edge, const LatticeFrame& flat) {
  edge.tells = Tells::Nothing;
  if (!inside(flat.at(edge.at.x, edge.at.y), 0.5)) return;
  const double steep_u = std::abs(edge.towards.x * flat.down.y - edge.towards.y * flat.right.y);
  const double steep_v = std::abs(edge.towards.y * flat.right.x - edge.towards.x * flat.down.x);
  if (steep_u > kStraight * steep_v) {
    edge.tells = Tells::U;
  } else if (steep_v > kStraight * steep_u) {
    edge.tells = Tells::V;
  } else {
    return;
  }
  const bool u = edge.tells == Tells::U;
  const double value =
      (u ? edge.at.x : edge.at.y) + value_of(edge.taps, u ? across_ : along_, grid_.columns());
  edge.line = std::round(value);
  edge.residual = edge.line - value;
}

// How well the edges of each cell lie on lines: a cosine, 1 on a line and -1 half way between two.
void LatticeGrowth::find_lines() {
  std::vector<LatticeFrame> flats(cells_.size());
  for (std::size_t i = 0; i < cells_.size(); ++i) {
    cells_[i].agreement = cells_[i].weight = 0;
    if (cells_[i].grown) flats[i] = flat_at(middle_of(i));
  }
  for (auto& edge : edges_) {
    Cell& cell = cells_[edge.cell];
    if (!cell.grown || flats[edge.cell].determinant() < 0.05) continue;
    assign(edge, flats[edge.cell]);
    if (edge.tells == Tells::Nothing) continue;
    cell.weight += edge.weight;
    cell.agreement += edge.weight * std::cos(2 * std::numbers::pi * edge.residual);
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
    if (!cell.grown || edge.tells == Tells::Nothing) continue;
    const double off = 1 + edge.residual * edge.residual / (kOutlier * kOutlier);
    const double weight = edge_weight_ * edge.weight * cell.trust() / (off * off);
    if (edge.tells == Tells::U) {
      across.add(edge.taps, edge.line - edge.at.x, weight);
    } else {
      along.add(edge.taps, edge.line - edge.at.y, weight);
    }
  }
  across.solve();
  along.solve();
  across_ = across.controls();
  along_ = along.controls();
  ask_frontier(across, along);
}

void LatticeGrowth::ask_frontier(const FieldFit& across, const FieldFit& along) {
  for (std::size_t i = 0; i < cells_.size(); ++i) {
    Cell& cell = cells_[i];
    cell.unsure = 1;
    if (cell.grown || !borders_grown(i)) continue;
    const auto middle = middle_of(i);
    if (!grid_.covers(middle) || !inside(displaced(middle), 1)) continue;
    const auto taps = grid_.taps(middle);
    cell.unsure = across.uncertainty(taps);
    if (cell.unsure < kFarthestGuess) cell.unsure = std::max(cell.unsure, along.uncertainty(taps));
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
  for (auto& cell : cells_) {
    if (cell.grown || cell.unsure > kFarthestGuess) continue;
    cell.grown = any = true;
  }
  return any;
}

void LatticeGrowth::grow() {
  std::erase_if(known_, [&](const LatticePoint& point) { return !grid_.covers(point.at); });
  for (const auto& point : known_) {
    if (point.deviation < 0.5) cells_[cell_of(point.at)].grown = true;
  }
  fit();
  int left = kLastRounds;
  for (int round = 0; round < kMostRounds && left > 0; ++round) {
    if (std::chrono::steady_clock::now() >= options_.deadline) break;
    if (!spread()) --left;
    find_lines();
    fit();
  }
  find_lines();
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
