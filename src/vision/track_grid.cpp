#include "vision/track_grid.h"

#include <algorithm>
#include <array>
#include <span>
#include <utility>
#include <vector>

#include "vision/finder_spots.h"
#include "vision/gray_mat.h"
#include "vision/grid_decoder.h"
#include "vision/grid_search.h"
#include "vision/smear.h"
#include "vision/variants.h"

namespace loadlight::vision {
namespace {

constexpr std::size_t kMostKept = 2;     // grids of a shot
constexpr int kWithoutSpots = 2;         // tries
constexpr double kLeastEvenness = 0.65;  // under which no grid reads a shot as it is

// What grids over one picture yield.
struct Laid final {
  std::optional<port::SymbolSighting> read;  // of the first that has a text; corners in the picture
  std::vector<SeenGrid> others;              // the likeliest first
};

Laid lay_over(const cv::Mat& picture, std::span<const FinderSpot> spots, const GridBudget& budget) {
  Laid laid;
  GridSearch search{view_of(picture), spots, budget};
  while (auto grid = search.next()) {
    if (const auto decoded = decode_grid(grid->seen)) {
      laid.read = port::SymbolSighting{decoded->text, grid->map.corners()};
      return laid;
    }
    laid.others.push_back(std::move(*grid));
  }
  std::stable_sort(laid.others.begin(), laid.others.end(),
                   [](const SeenGrid& a, const SeenGrid& b) { return a.likeness > b.likeness; });
  while (laid.others.size() > kMostKept) laid.others.pop_back();
  return laid;
}

// The text of one of the grids together with one of another shot.
std::optional<port::SymbolSighting> read_together(const std::vector<SeenGrid>& grids,
                                                  const std::vector<SoftGrid>& others) {
  for (const auto& grid : grids) {
    for (const auto& other : others) {
      if (other.side != grid.seen.side) continue;
      const auto decoded = decode_grid(fuse(std::array{grid.seen, other}));
      if (decoded) return port::SymbolSighting{decoded->text, grid.map.corners()};
    }
  }
  return std::nullopt;
}

// As a grid can be laid over it: without its smear. Empty if that cannot be told.
cv::Mat unsmeared(const Shot& shot) {
  const cv::Mat picture = mat_over(shot.picture.view());
  if (shot.evenness >= kLeastEvenness) return picture;
  const Smear smear = smear_of(picture);
  return smear.length > 0 ? without_smear(picture, smear) : cv::Mat();
}

}  // namespace

std::optional<port::SymbolSighting> read_grid_of(LabelTrack& track, const GridBudget& budget) {
  Shot* shot = track.sharpest_untried();
  if (shot == nullptr) return std::nullopt;
  shot->is_tried = true;
  const cv::Mat picture = unsmeared(*shot);
  if (picture.empty()) return std::nullopt;
  // Finders tell the module, unless they are a neighbour's: the first tries go without.
  const bool with_spots = track.grids > kWithoutSpots;
  const auto spots = with_spots ? find_finder_spots(view_of(unsharp(picture))) : std::vector<FinderSpot>{};
  auto laid = lay_over(picture, spots, budget);
  if (!laid.read) laid.read = read_together(laid.others, track.laid);
  for (auto& grid : laid.others) track.laid.push_back(std::move(grid.seen));
  // A neighbour's text is not this label's.
  if (!laid.read || !same_place(laid.read->corners, shot->in_picture)) return std::nullopt;
  const auto then = centre_of(shot->in_picture);
  const auto now = centre_of(track.corners());
  return port::SymbolSighting{laid.read->text, placed(laid.read->corners, 1, now.x - then.x, now.y - then.y)};
}

}  // namespace loadlight::vision
