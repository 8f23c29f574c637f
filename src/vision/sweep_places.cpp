#include "vision/sweep_places.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "vision/gray_mat.h"
#include "vision/pair_places.h"
#include "vision/place_texture.h"
#include "vision/symbol_places.h"
#include "vision/tiles.h"
#include "vision/zxing_pass.h"

namespace loadlight::vision {
namespace {

constexpr std::size_t kMostPlaces = 200;
constexpr double kPlaceSides = 1.35;
constexpr double kEnlarged = 2;
constexpr double kUsualModules = 37;  // a side; version 5, of our own labels

// Unsharp mask against a blur of 1.5 pixels.
cv::Mat unsharp(const cv::Mat& gray) {
  constexpr double kStrength = 1.5;
  cv::Mat smooth;
  cv::GaussianBlur(gray, smooth, {7, 7}, 1.5);
  cv::Mat result;
  cv::addWeighted(gray, 1 + kStrength, smooth, -kStrength, 0, result);
  return result;
}

Found placed_in_frame(Found found, double scale, const Tile& tile) {
  for (auto& sighting : found) sighting.corners = placed(sighting.corners, scale, tile.left, tile.top);
  return found;
}

bool is_nearly(const Quadrilateral& one, const Quadrilateral& other) {
  constexpr double kApart = 0.15;  // sides
  const double side = mean_side(one);
  const auto a = centre_of(one);
  const auto b = centre_of(other);
  return std::hypot(a.x - b.x, a.y - b.y) < kApart * side &&
         std::abs(mean_side(other) - side) < kApart * side;
}

}  // namespace

Found read_plainly(port::GrayView frame, const Quadrilateral& place) {
  const Tile tile = tile_around(place, kPlaceSides, frame);
  return placed_in_frame(zxing_pass(cut(frame, tile)), 1, tile);
}

Found read_sharpened(port::GrayView frame, const Quadrilateral& place) {
  const Tile tile = tile_around(place, kPlaceSides, frame);
  cv::Mat large;
  cv::resize(unsharp(mat_over(cut(frame, tile))), large, {}, kEnlarged, kEnlarged, cv::INTER_CUBIC);
  return placed_in_frame(zxing_pass(view_of(large)), kEnlarged, tile);
}

Found read_either(port::GrayView frame, const Quadrilateral& place) {
  auto found = read_plainly(frame, place);
  return found.empty() ? read_sharpened(frame, place) : found;
}

double changes_when_sharpened(port::GrayView view, const Quadrilateral& place) {
  const cv::Mat sharpened = unsharp(mat_over(view));
  return changes_across(view_of(sharpened), place);
}

double usual_module(const Quadrilateral& corners) {
  return mean_side(corners) / kUsualModules;
}

std::vector<Quadrilateral> apart_from_each_other(const std::vector<Quadrilateral>& places) {
  std::vector<Quadrilateral> kept;
  for (const auto& place : places) {
    const auto touches = [&](const Quadrilateral& other) { return overlap(other, place); };
    if (std::none_of(kept.begin(), kept.end(), touches)) kept.push_back(place);
  }
  return kept;
}

bool is_among(const std::vector<Quadrilateral>& places, const Quadrilateral& place) {
  return std::any_of(places.begin(), places.end(),
                     [&](const auto& other) { return is_nearly(other, place); });
}

SweepPlaces::SweepPlaces(port::GrayView frame)
    : sharpened_(unsharp(mat_over(frame))),
      part_{0, 0, frame.width, frame.height},
      spots_(find_finder_spots(view_of(sharpened_))) {}

SweepPlaces::SweepPlaces(port::GrayView frame, const Tile& part, const Smear& smear)
    : sharpened_(without_smear(mat_over(cut(frame, part)), smear)),
      part_(part),
      spots_(find_finder_spots(view_of(sharpened_))) {}

std::vector<FinderSpot> SweepPlaces::open_spots(const std::function<bool(port::PixelPoint)>& is_open) const {
  std::vector<FinderSpot> open;
  std::copy_if(spots_.begin(), spots_.end(), std::back_inserter(open), [&](const FinderSpot& spot) {
    return is_open({spot.centre.x + part_.left, spot.centre.y + part_.top});
  });
  return open;
}

std::vector<Quadrilateral> SweepPlaces::in_frame(std::vector<Quadrilateral> places) const {
  for (auto& place : places) place = placed(place, 1, part_.left, part_.top);
  return places;
}

std::vector<Quadrilateral> SweepPlaces::places(const std::function<bool(port::PixelPoint)>& is_open) const {
  auto places = likely_places(open_spots(is_open), kMostPlaces);
  std::erase_if(
      places, [&](const auto& place) { return changes_across(view_of(sharpened_), place) < kLeastChanges; });
  return in_frame(std::move(places));
}

std::vector<Quadrilateral> SweepPlaces::pairs(const std::function<bool(port::PixelPoint)>& is_open) const {
  return in_frame(pair_places(open_spots(is_open), view_of(sharpened_)));
}

double SweepPlaces::module_of(const Quadrilateral& corners) const {
  const auto there = placed(corners, 1, -part_.left, -part_.top);
  double sum = 0;
  int count = 0;
  for (const auto& spot : spots_) {
    if (!contains(there, spot.centre)) continue;
    sum += spot.module;
    ++count;
  }
  if (count == 0) return usual_module(corners);
  const double side = mean_side(corners);
  const double version = std::clamp(std::round((side * count / sum - 17) / 4), 1.0, 40.0);
  return side / (17 + 4 * version);
}

}  // namespace loadlight::vision
