// What is tried where many symbols were read and some are left.
#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>

#include "vision/gray_mat.h"
#include "vision/pair_places.h"
#include "vision/picture_reading.h"
#include "vision/sweep_places.h"
#include "vision/symbol_places.h"
#include "vision/variants.h"

namespace loadlight::vision {
namespace {

// Finders left over that are looked around, so many of their modules on every side: as far as the other finders
// of a label's symbol.
constexpr std::size_t kMostLeft = 100;
constexpr double kLabelReach = 45;
constexpr std::size_t kReadAPair = 7;  // symbols that were read, for each pair of finders tried

}  // namespace

// In a crowd what is left is mostly small and blurred: a sharpened view costs a tenth of a grid.
void PictureReading::read_sharpened_crowd() {
  if (sightings_.all().size() < kCrowd) return;
  read_sharpened_places();
  if (!is_thorough()) return;
  add_blurred_finders();
  read_sharpened_places();
}

void PictureReading::read_sharpened_places() {
  for (const auto& place : likely_places(open_, kMostPlaces)) {
    if (has_time() && is_promising(place)) read_sharpened(place);
  }
  drop_read();
}

// Of most small and blurred symbols one finder shows; the others do when what lies around it is sharpened.
void PictureReading::add_blurred_finders() {
  auto visible = open_;
  visible.resize(std::min(visible.size(), kMostLeft));
  for (const FinderSpot& spot : visible) {
    if (!has_time()) return;
    const Tile tile = tile_around(square_around(spot.centre, kLabelReach * spot.module), 1, picture_);
    const cv::Mat sharp = unsharp(mat_over(cut(picture_, tile)));
    for (const FinderSpot& found : find_finder_spots(view_of(sharp))) {
      add_finder({{found.centre.x + tile.left, found.centre.y + tile.top}, found.module});
    }
  }
}

void PictureReading::add_finder(const FinderSpot& spot) {
  const auto known = [&](const FinderSpot& other) {
    return std::hypot(other.centre.x - spot.centre.x, other.centre.y - spot.centre.y) < 2.5 * other.module;
  };
  if (sightings_.cover(spot.centre) || std::any_of(open_.begin(), open_.end(), known)) return;
  open_.push_back(spot);
}

// Most labels that a crowd leaves show two finders; a grid finds the third.
void PictureReading::read_pairs_in_crowd() {
  const auto read = sightings_.all().size();
  if (read < kCrowd) return;
  auto pairs = pair_places(open_, picture_);
  pairs.resize(std::min(pairs.size(), kMostPlaces));
  std::vector<Quadrilateral> tried;
  in_batches(std::move(pairs), [&](auto batch) {
    std::erase_if(batch, [&](const auto& place) { return is_among(tried, place); });
    const auto room = std::max(read / kReadAPair, kFewGrids) - tried.size();
    batch.resize(std::min(batch.size(), room));
    tried.insert(tried.end(), batch.begin(), batch.end());
    read_grids_at(batch, open_);
  });
  drop_read();
}

}  // namespace loadlight::vision
