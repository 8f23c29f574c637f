#include "vision/grid_reader.h"

#include <algorithm>

#include "vision/grid_search.h"

namespace loadlight::vision {
namespace {

std::vector<SeenGrid> all_of(GridSearch search) {
  std::vector<SeenGrid> grids;
  while (auto grid = search.next()) grids.push_back(std::move(*grid));
  std::stable_sort(grids.begin(), grids.end(),
                   [](const auto& a, const auto& b) { return a.likeness > b.likeness; });
  return grids;
}

}  // namespace

std::optional<GridReading> read_grid(port::GrayView view, std::span<const FinderSpot> spots,
                                     const GridBudget& budget) {
  GridSearch search{view, spots, budget};
  while (auto grid = search.next()) {
    if (auto decoded = decode_grid(grid->seen)) {
      return GridReading{std::move(*decoded), std::move(grid->map), std::move(grid->seen)};
    }
  }
  return std::nullopt;
}

std::vector<SeenGrid> lay_grids(port::GrayView view, std::span<const FinderSpot> spots,
                                const GridBudget& budget) {
  return all_of(GridSearch{view, spots, budget});
}

std::vector<SeenGrid> lay_grids_at(port::GrayView view, const port::Corners& corners, std::optional<int> side,
                                   const GridBudget& budget) {
  return all_of(GridSearch{view, corners, side, budget});
}

}  // namespace loadlight::vision
