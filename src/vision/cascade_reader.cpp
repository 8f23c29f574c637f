#include "vision/cascade_reader.h"

#include <algorithm>
#include <cmath>
#include <exception>
#include <opencv2/imgproc.hpp>

#include "vision/finder_spots.h"
#include "vision/gray_mat.h"
#include "vision/sightings.h"
#include "vision/symbol_places.h"
#include "vision/tiles.h"
#include "vision/variants.h"
#include "vision/zxing_pass.h"

namespace loadlight::vision {
namespace {

// Pixels of the largest view given to one pass, which takes about two more bytes for each.
constexpr double kLargestPass = 40e6;
// Pixels of the largest view that is rendered anew; a rendering may have four times as many.
constexpr double kLargestRendered = 1.5e6;
// Places looked at: as they are, and the likeliest of them in every rendering.
constexpr std::size_t kMostPlaces = 300;
constexpr std::size_t kMostRendered = 12;
constexpr int kMostRounds = 3;  // over the places, each without the finders of what was read before
// A place is cut out this many symbol sides wide, so that quiet zone and a misjudged corner fit.
constexpr double kPlaceSides = 1.7;
// As many symbols make a crowd: a pass that meets more than about 16 starves, and false finders count too.
constexpr std::size_t kCrowd = 6;
// Side and overlap of a tile in symbols: few enough to a tile, and each whole in one with its quiet zone.
constexpr double kTileSymbols = 5;
constexpr double kOverlapSymbols = 1.35;
constexpr double kLeastSymbol = 60;  // pixels; keeps tiles from becoming many and tiny

port::GrayView cut(port::GrayView picture, const Tile& tile) {
  const auto* first = picture.pixels + static_cast<std::ptrdiff_t>(tile.top) * picture.stride + tile.left;
  return {first, tile.width, tile.height, picture.stride};
}

Origin origin_of(const Tile& tile) {
  return {1, static_cast<double>(tile.left), static_cast<double>(tile.top)};
}

// A view reduced to at most `most` pixels; the scale says by how much.
struct Reduced final {
  cv::Mat mat;
  double scale = 1;
};

Reduced reduced(port::GrayView view, double most) {
  Reduced result{mat_over(view), 1};
  const double pixels = static_cast<double>(view.width) * view.height;
  if (pixels <= most) return result;
  result.scale = std::sqrt(most / pixels);
  cv::Mat small;
  cv::resize(result.mat, small, {}, result.scale, result.scale, cv::INTER_AREA);
  result.mat = small;
  return result;
}

void read_whole(port::GrayView picture, Sightings& sightings) {
  const auto fitting = reduced(picture, kLargestPass);
  sightings.add(zxing_pass(view_of(fitting.mat)), {fitting.scale, 0, 0});
}

// The same view in other renderings until something new is read.
void read_variants(port::GrayView view, Origin origin, Sightings& sightings) {
  const auto fitting = reduced(view, kLargestRendered);
  for (const auto& variant : variants()) {
    const cv::Mat rendering = variant.render(fitting.mat);
    const Origin from{fitting.scale * variant.scale, origin.left, origin.top};
    if (sightings.add(zxing_pass(view_of(rendering)), from) > 0) return;
  }
}

Tile tile_around(const Quadrilateral& place, port::GrayView picture) {
  const auto centre = centre_of(place);
  const double reach = extent(place) * kPlaceSides / 2;
  const int left = std::clamp(static_cast<int>(centre.x - reach), 0, picture.width - 1);
  const int top = std::clamp(static_cast<int>(centre.y - reach), 0, picture.height - 1);
  const int right = std::clamp(static_cast<int>(centre.x + reach), left + 1, picture.width);
  const int bottom = std::clamp(static_cast<int>(centre.y + reach), top + 1, picture.height);
  return {left, top, right - left, bottom - top};
}

using Spots = std::vector<FinderSpot>;

// Leaves the finders that no symbol read so far accounts for.
void drop_read(Spots& open, const Sightings& sightings) {
  std::erase_if(open, [&](const FinderSpot& spot) { return sightings.cover(spot.centre); });
}

void read_places(port::GrayView picture, Spots& open, Sightings& sightings) {
  for (int round = 0; round < kMostRounds; ++round) {
    const auto before = sightings.all().size();
    for (const auto& place : likely_places(open, kMostPlaces)) {
      if (sightings.cover(place)) continue;
      const auto tile = tile_around(place, picture);
      sightings.add(zxing_pass(cut(picture, tile)), origin_of(tile));
    }
    drop_read(open, sightings);
    if (sightings.all().size() == before) return;
  }
}

double largest_extent(const Sightings& sightings) {
  double largest = 0;
  for (const auto& sighting : sightings.all()) largest = std::max(largest, extent(sighting.corners));
  return largest;
}

// Tiles that hold a handful of symbols as large as those met so far.
void read_crowd(port::GrayView picture, Spots& open, Sightings& sightings) {
  if (sightings.all().size() < kCrowd || likely_places(open, 1).empty()) return;
  const double symbol = std::max(kLeastSymbol, largest_extent(sightings));
  const int side = static_cast<int>(symbol * kTileSymbols);
  const int overlap = static_cast<int>(symbol * kOverlapSymbols);
  for (const auto& tile : lay_tiles(picture.width, picture.height, side, overlap)) {
    sightings.add(zxing_pass(cut(picture, tile)), origin_of(tile));
  }
  drop_read(open, sightings);
}

void read_rendered_places(port::GrayView picture, const Spots& open, Sightings& sightings) {
  for (const auto& place : likely_places(open, kMostRendered)) {
    if (sightings.cover(place)) continue;
    const auto tile = tile_around(place, picture);
    read_variants(cut(picture, tile), origin_of(tile), sightings);
  }
}

void read_renderings(port::GrayView picture, Sightings& sightings) {
  if (sightings.all().empty()) read_variants(picture, {}, sightings);
}

}  // namespace

port::Look CascadeReader::look(port::GrayView picture, const port::ReadBudget&) const {
  Sightings sightings;
  if (picture.pixels == nullptr || picture.width < 1 || picture.height < 1) return {};
  try {
    read_whole(picture, sightings);
    auto open = find_finder_spots(picture);
    drop_read(open, sightings);
    read_places(picture, open, sightings);
    read_crowd(picture, open, sightings);
    read_rendered_places(picture, open, sightings);
    read_renderings(picture, sightings);
  } catch (const std::exception&) {
    // Out of memory, say: what the stages before it read still stands.
  }
  return {sightings.in_reading_order(), {}};
}

port::Look CascadeReader::look(std::span<const port::GrayView> shots, const port::ReadBudget& budget) const {
  return shots.empty() ? port::Look{} : look(shots.front(), budget);
}

std::optional<port::SymbolMatch> CascadeReader::match(port::GrayView, const port::Corners&,
                                                      std::span<const core::SymbolGrid>) const {
  return std::nullopt;
}

std::optional<core::PrintMeasures> CascadeReader::measure(port::GrayView, const port::SymbolSighting&) const {
  return std::nullopt;
}

std::unique_ptr<port::Sweep> CascadeReader::begin_sweep(const port::SweepOptions&) const {
  return nullptr;
}

}  // namespace loadlight::vision
