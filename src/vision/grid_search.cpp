#include "vision/grid_search.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "vision/gray_mat.h"
#include "vision/grid_fit.h"
#include "vision/grid_sampler.h"
#include "vision/qr_structure.h"
#include "vision/quadrilateral.h"

namespace loadlight::vision {
namespace {

constexpr double kModule = 4.5;       // pixels a module is brought to
constexpr double kLeastModule = 3.5;  // left as it is from here
constexpr double kMostModule = 6;     // to here
constexpr int kLeastView = 20;        // pixels; the smallest symbol has 21 modules
constexpr int kUsualSide = 33;        // modules
constexpr double kSmoothing = 0.2;    // of a module
constexpr std::size_t kMostMarks = 8;
constexpr double kLeastCoherence = 0.25;
constexpr double kLeastLikeness = 0.35;

double usual_module(port::GrayView view, std::span<const FinderSpot> spots) {
  if (spots.empty()) return std::min(view.width, view.height) / 45.0;  // of a symbol that fills the view
  std::vector<double> modules;
  for (const auto& spot : spots) modules.push_back(spot.module);
  std::nth_element(modules.begin(), modules.begin() + static_cast<std::ptrdiff_t>(modules.size() / 2),
                   modules.end());
  return modules[modules.size() / 2];
}

// The mean agreement of fixed modules.
double likeness_of(const SoftGrid& grid) {
  const auto version = version_of(grid.side);
  if (!version) return 0;
  const auto& fixed = fixed_modules(*version);
  double sum = 0;
  double count = 1e-9;
  for (std::size_t i = 0; i < grid.dark.size(); ++i) {
    const bool dark = fixed.kinds[i] == ModuleKind::Dark;
    if (!dark && fixed.kinds[i] != ModuleKind::Light) continue;
    sum += std::tanh(grid.dark[i] / 2) * (dark ? 1 : -1);
    ++count;
  }
  return sum / count;
}

}  // namespace

GridSearch::GridSearch(port::GrayView view, std::span<const FinderSpot> spots, const GridBudget& budget)
    : left_(budget.lattices), deadline_(budget.deadline) {
  prepare(view, usual_module(view, spots), spots);
  anchors_ = likely_anchors(levels_, marks_, static_cast<std::size_t>(budget.anchors));
}

GridSearch::GridSearch(port::GrayView view, const port::Corners& corners, std::optional<int> side,
                       const GridBudget& budget)
    : left_(budget.lattices), deadline_(budget.deadline) {
  prepare(view, mean_side(corners) / side.value_or(kUsualSide), {});
  const port::Corners enlarged = placed(corners, 1 / scale_, 0, 0);
  anchors_ =
      anchors_in(enlarged, side, likely_anchors(levels_, marks_, static_cast<std::size_t>(budget.anchors)));
}

void GridSearch::prepare(port::GrayView view, double module, std::span<const FinderSpot> spots) {
  if (std::min(view.width, view.height) < kLeastView || !(module > 0)) return;
  scale_ = module < kLeastModule || module > kMostModule ? std::clamp(kModule / module, 0.1, 4.0) : 1;
  cv::Mat sized = mat_over(view);
  if (scale_ != 1)
    cv::resize(sized, sized, {}, scale_, scale_, scale_ > 1 ? cv::INTER_CUBIC : cv::INTER_AREA);
  sized.convertTo(levels_, CV_32F);
  edges_ = edge_points(levels_, std::max(0.6, kSmoothing * module * scale_));
  std::vector<port::PixelPoint> hints;
  for (const auto& spot : spots) hints.push_back({spot.centre.x * scale_, spot.centre.y * scale_});
  marks_ = find_finder_marks(levels_, module * scale_, hints, edges_, kMostMarks);
}

std::optional<SeenGrid> GridSearch::lay(const AnchorSet& anchors) const {
  GridFitOptions options;
  options.deadline = deadline_;
  const auto laid = lay_grid(edges_, anchors.known, anchors.side, options);
  if (!laid || laid->coherence < kLeastCoherence) return std::nullopt;
  const SoftGrid seen = sample_grid(levels_, laid->map);
  SeenGrid best{laid->map, seen, -1};
  for (int quarters = 0; quarters < 4; ++quarters) {
    const SoftGrid other = turned(seen, quarters);
    const double likeness = likeness_of(other);
    if (likeness > best.likeness) best = {laid->map.turned(quarters), other, likeness};
  }
  best.map = best.map.placed(scale_, 0, 0);
  if (best.likeness < kLeastLikeness) return std::nullopt;
  return best;
}

std::optional<SeenGrid> GridSearch::next() {
  while (tried_ < anchors_.size() && left_ > 0 && std::chrono::steady_clock::now() < deadline_) {
    --left_;
    if (auto grid = lay(anchors_[tried_++])) return grid;
  }
  return std::nullopt;
}

}  // namespace loadlight::vision
