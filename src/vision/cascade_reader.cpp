#include "vision/cascade_reader.h"

#include <algorithm>
#include <exception>
#include <opencv2/imgproc.hpp>

#include "vision/gray_mat.h"
#include "vision/sightings.h"
#include "vision/tiles.h"
#include "vision/variants.h"
#include "vision/zxing_pass.h"

namespace loadlight::vision {
namespace {

// Largest view given to one pass, pixels; a pass takes about two more bytes for each.
constexpr double kLargestPass = 40e6;
// As many symbols and places like symbols as make a crowd: a pass that meets more than about 16 starves.
constexpr std::size_t kCrowd = 6;
// Most places looked at again one by one, and most pixels of an enlarged view.
constexpr std::size_t kMostRegions = 12;
constexpr double kLargestRendering = 6e6;
// A region is this many symbol sides wide, so that quiet zone and a misjudged corner fit.
constexpr double kRegionSides = 1.8;

double pixels_in(port::GrayView view) {
  return static_cast<double>(view.width) * view.height;
}

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
  if (pixels_in(view) <= most) return result;
  result.scale = std::sqrt(most / pixels_in(view));
  cv::Mat small;
  cv::resize(result.mat, small, {}, result.scale, result.scale, cv::INTER_AREA);
  result.mat = small;
  return result;
}

void read_whole(port::GrayView picture, Sightings& sightings) {
  const auto fitting = reduced(picture, kLargestPass);
  sightings.add(zxing_pass(view_of(fitting.mat)), {fitting.scale, 0, 0});
}

// Side of the largest symbol met so far, whether it was read or not; 0 if none.
double largest_side(const Sightings& sightings) {
  double largest = 0;
  for (const auto& sighting : sightings.read()) largest = std::max(largest, mean_side(sighting.corners));
  return largest;
}

void read_tiles(port::GrayView picture, int side, int overlap, Sightings& sightings) {
  for (const auto& tile : lay_tiles(picture.width, picture.height, side, overlap)) {
    sightings.add(zxing_pass(cut(picture, tile)), origin_of(tile));
  }
}

// Tiles that hold a handful of the symbols met so far.
void read_crowd(port::GrayView picture, Sightings& sightings) {
  if (sightings.read().size() + sightings.unread().size() < kCrowd) return;
  const double symbol = std::max(60.0, largest_side(sightings));
  read_tiles(picture, static_cast<int>(symbol * 5), static_cast<int>(symbol * 1.5), sightings);
}

// The same view in other renderings until something new is read.
void read_variants(port::GrayView view, Origin origin, Sightings& sightings) {
  for (const auto& variant : variants()) {
    const auto before = sightings.read().size();
    const cv::Mat rendering = variant.render(mat_over(view));
    sightings.add(zxing_pass(view_of(rendering)), {origin.scale * variant.scale, origin.left, origin.top});
    if (sightings.read().size() > before) return;
  }
}

Tile region_around(const Quadrilateral& place, port::GrayView picture) {
  const auto centre = centre_of(place);
  const double reach = mean_side(place) * kRegionSides / 2;
  const int left = std::clamp(static_cast<int>(centre.x - reach), 0, picture.width - 1);
  const int top = std::clamp(static_cast<int>(centre.y - reach), 0, picture.height - 1);
  const int right = std::clamp(static_cast<int>(centre.x + reach), left + 1, picture.width);
  const int bottom = std::clamp(static_cast<int>(centre.y + reach), top + 1, picture.height);
  return {left, top, right - left, bottom - top};
}

void read_regions(port::GrayView picture, Sightings& sightings) {
  auto places = sightings.unread();
  places.resize(std::min(places.size(), kMostRegions));
  for (const auto& place : places) {
    const auto tile = region_around(place, picture);
    const auto fitting = reduced(cut(picture, tile), kLargestRendering / 4);
    auto origin = origin_of(tile);
    origin.scale = fitting.scale;
    read_variants(view_of(fitting.mat), origin, sightings);
  }
}

void read_renderings(port::GrayView picture, Sightings& sightings) {
  if (!sightings.read().empty()) return;
  const auto fitting = reduced(picture, kLargestRendering / 4);
  read_variants(view_of(fitting.mat), {fitting.scale, 0, 0}, sightings);
}

}  // namespace

std::vector<port::SymbolSighting> CascadeReader::read(port::GrayView picture) const {
  Sightings sightings;
  if (picture.pixels == nullptr || picture.width < 1 || picture.height < 1) return {};
  try {
    read_whole(picture, sightings);
    read_crowd(picture, sightings);
    read_regions(picture, sightings);
    read_renderings(picture, sightings);
  } catch (const std::exception&) {
    // Out of memory, say: what the stages before it read still stands.
  }
  return sightings.in_reading_order();
}

}  // namespace loadlight::vision
