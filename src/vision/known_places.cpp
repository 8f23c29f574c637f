#include "vision/known_places.h"

#include "vision/grid_decoder.h"
#include "vision/grid_match.h"
#include "vision/grid_reader.h"
#include "vision/print_measures.h"
#include "vision/tiles.h"

namespace loadlight::vision {
namespace {

constexpr double kPlaceSides = 1.7;  // of the place's outline, that are cut out around it
constexpr GridBudget kGrid{8, 40};

// The grids that may lie at the place, in pixels of the whole picture.
std::vector<SeenGrid> grids_at(port::GrayView picture, const port::Corners& place, std::optional<int> side) {
  const Tile tile = tile_around(place, kPlaceSides, picture);
  const auto view = cut(picture, tile);
  auto grids = lay_grids_at(view, placed(place, 1, -tile.left, -tile.top), side, kGrid);
  for (auto& grid : lay_grids(view, {}, kGrid)) grids.push_back(std::move(grid));
  std::vector<SeenGrid> whole;
  for (auto& grid : grids) {
    whole.push_back({grid.map.placed(1, tile.left, tile.top), std::move(grid.seen), grid.likeness});
  }
  return whole;
}

}  // namespace

std::optional<port::SymbolMatch> match_place(port::GrayView picture, const port::Corners& place,
                                             std::span<const core::SymbolGrid> candidates) {
  std::optional<port::SymbolMatch> best;
  for (const SeenGrid& grid : grids_at(picture, place, std::nullopt)) {
    const auto likelihood = match_grid(grid.seen, candidates);
    if (!likelihood || (best && best->over_chance >= likelihood->over_chance)) continue;
    best = port::SymbolMatch{likelihood->candidate, likelihood->over_second, likelihood->over_chance,
                             grid.map.corners()};
  }
  return best;
}

std::optional<core::PrintMeasures> measure_symbol(port::GrayView picture,
                                                  const port::SymbolSighting& symbol) {
  for (const SeenGrid& grid : grids_at(picture, symbol.corners, std::nullopt)) {
    const auto decoded = decode_grid(grid.seen);
    if (decoded && decoded->text == symbol.text) return measure_print(picture, grid.map, *decoded);
  }
  return std::nullopt;
}

}  // namespace loadlight::vision
