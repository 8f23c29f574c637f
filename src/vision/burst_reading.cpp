#include "vision/burst_reading.h"

#include <algorithm>
#include <cmath>
#include <exception>

#include "vision/grid_decoder.h"
#include "vision/grid_reader.h"
#include "vision/parallel.h"
#include "vision/picture_reading.h"
#include "vision/tiles.h"

namespace loadlight::vision {
namespace {

constexpr std::size_t kMostPlaces = 8;  // of a shot, over which grids are laid
constexpr std::size_t kMostGrids = 3;   // of a place
constexpr std::size_t kMostShots = 6;   // whose grids are added up
constexpr std::size_t kMostSums = 400;  // tried around one grid
constexpr double kPlaceSides = 1.7;     // of a place's outline, that are cut out around it
constexpr double kSamePlace = 0.4;  // of a symbol's side, within which grids of two shots are one symbol's
constexpr double kSameSize = 1.25;  // ratio of the modules of two shots
constexpr GridBudget kGrid{6, 24};

double distance(port::PixelPoint a, port::PixelPoint b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

bool same_text(const port::SymbolSighting& one, const port::SymbolSighting& other) {
  return one.text == other.text;
}

}  // namespace

BurstReading::BurstReading(std::span<const port::GrayView> shots, const port::ReadBudget& budget)
    : shots_(shots), budget_(budget), deadline_(std::chrono::steady_clock::now() + budget.time) {}

bool BurstReading::has_time() const {
  return std::chrono::steady_clock::now() < deadline_;
}

void BurstReading::run() {
  read_alone();
  if (!has_time()) return;
  lay_over_unread();
  lay_where_others_are();
  fuse_grids();
  if (sightings_.all().empty()) read_thoroughly();
}

// One shot after the other, with all there is, until one yields something.
void BurstReading::read_thoroughly() {
  for (const port::GrayView& shot : shots_) {
    if (!has_time() || !sightings_.all().empty()) return;
    PictureReading reading{shot, budget_};
    reading.run();
    sightings_.add(reading.result().read, {});
  }
}

// A text that was read in one shot is the same label in the next, unless that one shows it more often.
void BurstReading::read_alone() {
  std::vector<port::Look> looks(shots_.size());
  places_.resize(shots_.size());
  port::ReadBudget each = budget_;
  each.effort = port::Effort::Quick;
  each.threads = 1;
  in_parallel(shots_.size(), budget_.threads, [&](std::size_t i) {
    PictureReading reading{shots_[i], each};
    try {
      reading.run();
    } catch (const std::exception&) {
      // One shot's fault, out of memory say, leaves the others to be read.
    }
    looks[i] = reading.result();
    places_[i] = reading.places_left(kMostPlaces);
  });
  std::vector<port::SymbolSighting> known;
  for (const port::Look& look : looks) {
    for (const port::SymbolSighting& sighting : look.read) {
      const auto alike = [&](const auto& other) { return same_text(sighting, other); };
      const auto here = std::count_if(look.read.begin(), look.read.end(), alike);
      if (std::count_if(known.begin(), known.end(), alike) < here) known.push_back(sighting);
    }
  }
  sightings_.add(known, {});
  if (!looks.empty()) unread_ = looks.front().unread;
}

void BurstReading::lay_over_unread() {
  struct Task final {
    Shot shot;
    port::Corners place;
  };
  std::vector<Task> tasks;
  for (Shot shot = 0; shot < shots_.size(); ++shot) {
    for (const auto& place : places_[shot]) tasks.push_back({shot, place});
  }
  std::vector<std::vector<Laid>> found(tasks.size());
  in_parallel(tasks.size(), budget_.threads, [&](std::size_t i) {
    if (!has_time()) return;
    const Tile tile = tile_around(tasks[i].place, kPlaceSides, shots_[tasks[i].shot]);
    auto grids = lay_grids(cut(shots_[tasks[i].shot], tile), {}, until(deadline_, kGrid));
    for (std::size_t k = 0; k < std::min(kMostGrids, grids.size()); ++k) {
      SeenGrid grid{grids[k].map.placed(1, tile.left, tile.top), std::move(grids[k].seen), grids[k].likeness};
      const auto centre = centre_of(grid.map.corners());
      found[i].push_back({tasks[i].shot, std::move(grid), centre});
    }
  });
  for (auto& grids : found) std::move(grids.begin(), grids.end(), std::back_inserter(laid_));
  std::erase_if(laid_, [&](const Laid& laid) { return is_read_at(laid); });
}

// In a shot whose finders are hidden the symbol lies about where other shots show it.
void BurstReading::lay_where_others_are() {
  std::stable_sort(laid_.begin(), laid_.end(),
                   [](const Laid& a, const Laid& b) { return a.grid.likeness > b.grid.likeness; });
  std::vector<std::pair<Shot, const Laid*>> tasks;
  for (const Laid& laid : laid_) {
    for (Shot shot = 0; shot < shots_.size() && tasks.size() < kMostPlaces; ++shot) {
      const bool tried = std::any_of(tasks.begin(), tasks.end(), [&](const auto& task) {
        return task.first == shot && distance(task.second->centre, laid.centre) < 1;
      });
      if (shot != laid.shot && !tried && companions(laid, shot).empty()) tasks.emplace_back(shot, &laid);
    }
  }
  std::vector<std::optional<Laid>> found(tasks.size());
  in_parallel(tasks.size(), budget_.threads, [&](std::size_t i) {
    if (!has_time()) return;
    const auto corners = tasks[i].second->grid.map.corners();
    const Tile tile = tile_around(corners, kPlaceSides, shots_[tasks[i].first]);
    auto grids = lay_grids_at(cut(shots_[tasks[i].first], tile), placed(corners, 1, -tile.left, -tile.top),
                              tasks[i].second->grid.map.side(), until(deadline_, kGrid));
    if (grids.empty()) return;
    SeenGrid grid{grids[0].map.placed(1, tile.left, tile.top), std::move(grids[0].seen), grids[0].likeness};
    const auto centre = centre_of(grid.map.corners());
    found[i] = Laid{tasks[i].first, std::move(grid), centre};
  });
  for (auto& laid : found) {
    if (laid) laid_.push_back(std::move(*laid));
  }
}

bool BurstReading::is_read_at(const Laid& laid) const {
  return laid.shot == 0 && sightings_.cover(laid.centre);
}

// The grids of one shot that may be the same symbol's, the likeliest first.
std::vector<const BurstReading::Laid*> BurstReading::companions(const Laid& first, Shot shot) const {
  std::vector<const Laid*> found;
  const double module = first.grid.map.module();
  for (const Laid& laid : laid_) {
    const double ratio = laid.grid.map.module() / module;
    const bool fits = laid.shot == shot && laid.grid.map.side() == first.grid.map.side() &&
                      distance(laid.centre, first.centre) < kSamePlace * module * first.grid.map.side() &&
                      ratio < kSameSize && ratio > 1 / kSameSize;
    if (fits && found.size() < kMostGrids) found.push_back(&laid);
  }
  return found;
}

void BurstReading::fuse_grids() {
  for (const Laid& laid : laid_) {
    if (has_time() && !sightings_.cover(laid.centre)) fuse_around(laid);
  }
}

// Sums of the grid with one or none of each other shot's, the fullest sums first.
bool BurstReading::fuse_around(const Laid& first) {
  std::vector<std::vector<const Laid*>> choices;
  for (Shot shot = 0; shot < shots_.size() && choices.size() + 1 < kMostShots; ++shot) {
    if (shot == first.shot) continue;
    auto companions_there = companions(first, shot);
    if (!companions_there.empty()) choices.push_back(std::move(companions_there));
  }
  std::vector<std::vector<const Laid*>> sums{{&first}};
  for (const auto& choice : choices) {
    const auto so_far = sums.size();
    for (std::size_t i = 0; i < so_far && sums.size() < kMostSums; ++i) {
      for (const Laid* laid : choice) {
        sums.push_back(sums[i]);
        sums.back().push_back(laid);
      }
    }
  }
  std::stable_sort(sums.begin(), sums.end(),
                   [](const auto& a, const auto& b) { return a.size() > b.size(); });
  return std::any_of(sums.begin(), sums.end(), [&](const auto& sum) { return decode_sum(sum); });
}

bool BurstReading::decode_sum(std::span<const Laid* const> grids) {
  std::vector<SoftGrid> seen;
  for (const Laid* laid : grids) seen.push_back(laid->grid.seen);
  const auto decoded = decode_grid(fuse(seen));
  if (!decoded) return false;
  const auto earliest = std::min_element(grids.begin(), grids.end(),
                                         [](const Laid* a, const Laid* b) { return a->shot < b->shot; });
  const port::SymbolSighting sighting{decoded->text, (**earliest).grid.map.corners()};
  const auto& all = sightings_.all();
  if (std::none_of(all.begin(), all.end(), [&](const auto& other) { return same_text(sighting, other); })) {
    sightings_.add({sighting}, {});
  }
  return true;
}

port::Look BurstReading::result() const {
  auto unread = unread_;
  std::erase_if(unread, [&](const port::Corners& place) { return sightings_.cover(place); });
  return {sightings_.in_reading_order(), std::move(unread)};
}

}  // namespace loadlight::vision
