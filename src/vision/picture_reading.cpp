#include "vision/picture_reading.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "vision/gray_mat.h"
#include "vision/grid_reader.h"
#include "vision/parallel.h"
#include "vision/place_texture.h"
#include "vision/symbol_places.h"
#include "vision/texture_places.h"
#include "vision/variants.h"
#include "vision/zxing_pass.h"

namespace loadlight::vision {
namespace {

// Pixels of the largest view given to one pass, which takes about two more bytes for each.
constexpr double kLargestPass = 40e6;
// Pixels of the largest view that is rendered anew; a rendering may have four times as many.
constexpr double kLargestRendered = 1.5e6;
// The likeliest places are looked at in every rendering.
constexpr std::size_t kMostRendered = 12;
constexpr std::size_t kFewRendered = 3;  // where something else was read
// Places over which grids of our own are laid without a finder, and how much is tried for one.
constexpr std::size_t kFewTextures = 4;
constexpr GridBudget kGrid{6, 24};
constexpr GridBudget kCrowdGrid{2, 8};
constexpr std::size_t kLikelyTextures = 2;
// A finder left over beside what was read: no more of them than this are looked at on their own, each with so
// many of its modules on every side as the diagonal of the largest symbol has.
constexpr std::size_t kFewLeft = 2;
constexpr double kFinderReach = 250;
constexpr int kMostRounds = 3;  // over the places, each without the finders of what was read before
// A place is cut out this many symbol sides wide, so that quiet zone and a misjudged corner fit.
constexpr double kPlaceSides = 1.35;
constexpr double kWidePlaceSides = 1.5;
// Side and overlap of a tile in symbols: few enough to a tile, and each whole in one with its quiet zone.
constexpr double kTileSymbols = 5;
constexpr double kOverlapSymbols = 1.35;
constexpr double kSmallSymbol = 80;  // pixels, in which modules may be under two
constexpr std::size_t kMuchLeft = 3;  // a third of what was read
constexpr double kLeastSymbol = 60;  // pixels; keeps tiles from becoming many and tiny

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

double largest_extent(const Sightings& sightings) {
  double largest = 0;
  for (const auto& sighting : sightings.all()) largest = std::max(largest, extent(sighting.corners));
  return largest;
}

bool holds(const Tile& tile, const FinderSpot& spot) {
  return spot.centre.x >= tile.left && spot.centre.x < tile.left + tile.width && spot.centre.y >= tile.top &&
         spot.centre.y < tile.top + tile.height;
}

bool holds_any(const Tile& tile, const std::vector<FinderSpot>& spots) {
  return std::any_of(spots.begin(), spots.end(), [&](const FinderSpot& spot) { return holds(tile, spot); });
}

}  // namespace

PictureReading::PictureReading(port::GrayView picture, const port::ReadBudget& budget)
    : picture_(picture), budget_(budget), deadline_(std::chrono::steady_clock::now() + budget.time) {}

void PictureReading::run() {
  open_ = visible_finders();
  read_places();
  look_again();
  drop_read();
  if (!is_explained()) read_around_left();
  read_sharpened_crowd();
  // Where many symbols were read, more of the places left are symbols.
  read_grids(open_, std::max(kFewGrids, sightings_.all().size()));
  if (!is_thorough()) return;
  read_pairs_in_crowd();
  read_textures();
  read_tiles();
  read_rendered_places();
  if (!sightings_.all().empty()) return;
  read_grids(hidden_, kFewGrids);
  read_renderings();
}

port::Look PictureReading::result() const {
  std::vector<port::Corners> unread;
  for (const auto& place : likely_places(open_, kMostPlaces)) {
    if (is_promising(place)) unread.push_back(place);
  }
  return {sightings_.in_reading_order(), std::move(unread)};
}

std::vector<port::Corners> PictureReading::places_left(std::size_t most) const {
  auto spots = open_;
  spots.insert(spots.end(), hidden_.begin(), hidden_.end());
  std::vector<port::Corners> places = likely_places(spots, most);
  if (is_small()) {
    for (const auto& place : texture_places(mat_over(picture_), most)) places.push_back(place);
  }
  std::erase_if(places, [&](const port::Corners& place) { return !is_promising(place); });
  if (places.size() > most) places.resize(most);
  return places;
}

bool PictureReading::has_time() const {
  return std::chrono::steady_clock::now() < deadline_;
}

bool PictureReading::is_small() const {
  return static_cast<double>(picture_.width) * picture_.height <= kLargestRendered;
}

bool PictureReading::is_thorough() const {
  return budget_.effort == port::Effort::Full;
}

// Every finder belongs to a symbol that was read; or so many were that a pass over the whole would starve.
bool PictureReading::is_explained() const {
  const auto read = sightings_.all().size();
  return read >= kCrowd || (read > 0 && open_.empty());
}

// Noise is full of patterns; what is left of them when it is smoothed are finders.
std::vector<FinderSpot> PictureReading::visible_finders() const {
  const cv::Mat gray = mat_over(picture_);
  if (!is_small() || !is_noisy(gray)) return find_finder_spots(picture_);
  return find_finder_spots(view_of(smoothed(gray)), kMuchDarker);
}

// Leaves the finders that no symbol read so far accounts for.
void PictureReading::drop_read() {
  const auto is_read = [&](const FinderSpot& spot) { return sightings_.cover(spot.centre); };
  std::erase_if(open_, is_read);
  std::erase_if(hidden_, is_read);
}

// Places that do not touch are read at once; those that do wait until it is known what the others are.
void PictureReading::in_batches(std::vector<Quadrilateral> waiting,
                                const std::function<void(const std::vector<Quadrilateral>&)>& read) {
  while (!waiting.empty() && has_time()) {
    std::vector<Quadrilateral> batch;
    std::vector<Quadrilateral> later;
    for (const auto& place : waiting) {
      if (sightings_.cover(place)) continue;
      const auto touches = [&](const Quadrilateral& other) { return overlap(other, place); };
      (std::any_of(batch.begin(), batch.end(), touches) ? later : batch).push_back(place);
    }
    read(batch);
    waiting = std::move(later);
  }
}

void PictureReading::read_places() {
  for (int round = 0; round < kMostRounds && has_time(); ++round) {
    std::size_t read = 0;
    in_batches(likely_places(open_, kMostPlaces), [&](const auto& batch) { read += read_batch(batch); });
    drop_read();
    if (read == 0) return;
  }
}

std::size_t PictureReading::read_batch(const std::vector<Quadrilateral>& batch) {
  std::vector<std::vector<port::SymbolSighting>> found(batch.size());
  std::vector<Tile> tiles;
  for (const auto& place : batch) tiles.push_back(tile_around(place, kPlaceSides, picture_));
  in_parallel(batch.size(), budget_.threads, [&](std::size_t i) {
    if (has_time()) found[i] = zxing_pass(cut(picture_, tiles[i]));
  });
  std::size_t added = 0;
  for (std::size_t i = 0; i < batch.size(); ++i) added += sightings_.add(found[i], origin_of(tiles[i]));
  return added;
}

void PictureReading::read_whole() {
  if (!has_time()) return;
  const auto fitting = reduced(picture_, kLargestPass);
  sightings_.add(zxing_pass(view_of(fitting.mat)), {fitting.scale, 0, 0});
  drop_read();
}

void PictureReading::read_around_left() {
  if (sightings_.all().empty() || open_.size() > kFewLeft) {
    read_whole();
    return;
  }
  for (const FinderSpot& spot : open_) {
    const Tile tile = tile_around(square_around(spot.centre, kFinderReach * spot.module), 1, picture_);
    if (has_time()) sightings_.add(zxing_pass(cut(picture_, tile)), origin_of(tile));
  }
  drop_read();
}

void PictureReading::read_grids(const std::vector<FinderSpot>& spots, std::size_t most) {
  read_grids_at(likely_places(spots, most), spots);
  drop_read();
}

void PictureReading::read_tripled(const Quadrilateral& place) {
  if (mean_side(place) > kSmallSymbol) return;
  const Tile tile = tile_around(place, kPlaceSides, picture_);
  const cv::Mat large = tripled(mat_over(cut(picture_, tile)));
  sightings_.add(zxing_pass(view_of(large)),
                 {3, static_cast<double>(tile.left), static_cast<double>(tile.top)});
}

void PictureReading::read_textures() {
  if (!sightings_.all().empty() || !is_small()) return;
  const auto places = texture_places(mat_over(picture_), kFewTextures);
  for (const auto& place : places) read_tripled(place);
  if (sightings_.all().empty()) read_grids_at(places, open_);
}

void PictureReading::read_grids_at(const std::vector<Quadrilateral>& places,
                                   const std::vector<FinderSpot>& spots) {
  std::vector<std::optional<port::SymbolSighting>> found(places.size());
  in_parallel(places.size(), budget_.threads, [&](std::size_t i) {
    if (has_time() && is_promising(places[i])) found[i] = read_grid_at(places[i], spots);
  });
  for (const auto& sighting : found) {
    if (sighting) sightings_.add({*sighting}, {});
  }
}

bool PictureReading::is_promising(const Quadrilateral& place) const {
  return !sightings_.cover(place) && changes_across(picture_, place) >= kLeastChanges;
}

std::optional<port::SymbolSighting> PictureReading::read_grid_at(const Quadrilateral& place,
                                                                 const std::vector<FinderSpot>& spots) const {
  const bool crowd = sightings_.all().size() >= kCrowd;
  const Tile tile = tile_around(place, crowd ? kPlaceSides : kWidePlaceSides, picture_);
  std::vector<FinderSpot> inside;
  for (const FinderSpot& spot : spots) {
    if (!holds(tile, spot)) continue;
    inside.push_back({{spot.centre.x - tile.left, spot.centre.y - tile.top}, spot.module});
  }
  const auto reading = read_grid(cut(picture_, tile), inside, until(deadline_, crowd ? kCrowdGrid : kGrid));
  if (!reading) return std::nullopt;
  return port::SymbolSighting{reading->decoded.text,
                              placed(reading->map.corners(), 1, tile.left, tile.top)};
}

// Most labels that are too small or too blurred for finders to show still have their texture, and a place is
// rendered for a tenth of what the picture takes. Noise and paleness need the picture rendered first.
void PictureReading::read_likely_texture() {
  const cv::Mat gray = mat_over(picture_);
  if (is_noisy(gray) || is_pale(gray)) return;
  for (const Grains grains : {Grains::Coarse, Grains::Fine}) {
    for (const auto& place : texture_places(gray, kLikelyTextures, grains)) {
      if (!has_time() || !sightings_.all().empty()) continue;
      read_tripled(place);
      if (grains == Grains::Coarse && mean_side(place) > kSmallSymbol) read_blurred(place);
    }
    if (!sightings_.all().empty()) return;
  }
}

// Sharpening alone reads most of what is blurred by half a module, at a third of what it costs enlarged.
void PictureReading::read_blurred(const Quadrilateral& place) {
  const Tile tile = tile_around(place, kPlaceSides, picture_);
  const cv::Mat gray = mat_over(cut(picture_, tile));
  const cv::Mat sharp = unsharp(gray);
  if (sightings_.add(zxing_pass(view_of(sharp)), origin_of(tile)) > 0) return;
  const cv::Mat sharper = much_sharpened(gray);
  sightings_.add(zxing_pass(view_of(sharper)),
                 {2, static_cast<double>(tile.left), static_cast<double>(tile.top)});
}

void PictureReading::read_sharpened(const Quadrilateral& place) {
  const Tile tile = tile_around(place, kPlaceSides, picture_);
  const cv::Mat sharp = sharpened(mat_over(cut(picture_, tile)));
  sightings_.add(zxing_pass(view_of(sharp)), {2, static_cast<double>(tile.left), static_cast<double>(tile.top)});
}

// Where the picture as it is showed no finders for its blur, paleness or noise, other renderings may.
void PictureReading::look_again() {
  if (!is_small() || !sightings_.all().empty()) return;
  read_likely_texture();
  for (const Rendering& rendering : renderings_for_finders(mat_over(picture_))) {
    if (!has_time() || !sightings_.all().empty()) return;
    const cv::Mat rendered = rendering.render(mat_over(picture_));
    const auto spots = find_finder_spots(view_of(rendered), rendering.darker);
    read_rendered(rendered, rendering.scale, likely_places(spots, kMostRendered));
    for (const FinderSpot& spot : spots) {
      hidden_.push_back({{spot.centre.x / rendering.scale, spot.centre.y / rendering.scale},
                         spot.module / rendering.scale});
    }
  }
}

void PictureReading::read_rendered(const cv::Mat& rendered, double scale,
                                   const std::vector<Quadrilateral>& places) {
  for (const auto& place : places) {
    if (!has_time() || sightings_.cover(placed(place, scale, 0, 0))) continue;
    const Tile tile = tile_around(place, kPlaceSides, view_of(rendered));
    const Origin from{scale, tile.left / scale, tile.top / scale};
    if (sightings_.add(zxing_pass(cut(view_of(rendered), tile)), from) == 0) {
      read_tripled(placed(place, scale, 0, 0));
    }
  }
}

// Tiles that hold a handful of symbols as large as those met so far; worth their cost only where much of the
// crowd is left.
void PictureReading::read_tiles() {
  const auto read = sightings_.all().size();
  if (read < kCrowd || likely_places(open_, read).size() * kMuchLeft < read) return;
  const double symbol = std::max(kLeastSymbol, largest_extent(sightings_));
  const int side = static_cast<int>(symbol * kTileSymbols);
  const int overlap = static_cast<int>(symbol * kOverlapSymbols);
  for (const auto& tile : lay_tiles(picture_.width, picture_.height, side, overlap)) {
    if (!has_time()) return;
    if (holds_any(tile, open_)) sightings_.add(zxing_pass(cut(picture_, tile)), origin_of(tile));
  }
  drop_read();
}

void PictureReading::read_rendered_places() {
  const bool is_first = sightings_.all().empty();
  if (!is_first && is_noisy(mat_over(picture_))) return;  // noise looks like symbols everywhere
  const std::size_t most = is_first ? kMostRendered : kFewRendered;
  for (const auto& place : likely_places(open_, most)) {
    if (!is_promising(place) || !has_time()) continue;
    const auto tile = tile_around(place, kWidePlaceSides, picture_);
    read_variants(cut(picture_, tile), origin_of(tile));
  }
}

void PictureReading::read_renderings() {
  if (sightings_.all().empty()) read_variants(picture_, {});
}

// The same view in other renderings until something new is read.
void PictureReading::read_variants(port::GrayView view, const Origin& origin) {
  const auto fitting = reduced(view, kLargestRendered);
  for (const auto& variant : variants()) {
    if (!has_time()) return;
    const cv::Mat rendering = variant.render(fitting.mat);
    const Origin from{fitting.scale * variant.scale, origin.left, origin.top};
    if (sightings_.add(zxing_pass(view_of(rendering)), from) > 0) return;
  }
}

}  // namespace loadlight::vision
