#include "vision/pair_places.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "vision/camera_view.h"

namespace loadlight::vision_tests {
namespace {

CameraView label() {
  cv::RNG rng(73);
  Harms harms;
  harms.module = 4;
  harms.turn = 12;
  return pouch_view(harms, rng, {640, 480});
}

// The finder at one of the corners, the first clockwise from the symbol's own top left.
vision::FinderSpot finder(const TrueSymbol& symbol, std::size_t corner) {
  const double side = vision::mean_side(symbol.corners) / symbol.module;
  const double share = 3.5 / side;
  const auto& here = symbol.corners[corner];
  const auto& opposite = symbol.corners[(corner + 2) % 4];
  return {{here.x + share * (opposite.x - here.x), here.y + share * (opposite.y - here.y)}, symbol.module};
}

}  // namespace

TEST_CASE("Two finders of a symbol say where it may lie, whichever of them is hidden") {
  const auto view = label();
  const auto& symbol = view.symbols[0];
  constexpr std::size_t kPairs[][2] = {{0, 1}, {0, 3}, {1, 3}};
  for (const auto& pair : kPairs) {
    const std::vector<vision::FinderSpot> spots{finder(symbol, pair[0]), finder(symbol, pair[1])};
    const auto places = vision::pair_places(spots, view_of(view.gray));
    CAPTURE(pair[0], pair[1], places.size());
    CHECK(std::any_of(places.begin(), places.end(), [&](const auto& place) {
      const auto a = vision::centre_of(place);
      const auto b = vision::centre_of(symbol.corners);
      return std::hypot(a.x - b.x, a.y - b.y) < 8 &&
             std::abs(vision::mean_side(place) - vision::mean_side(symbol.corners)) < 12;
    }));
  }
}

TEST_CASE("One finder or a crowd of them or two where nothing is printed say nothing") {
  const auto view = label();
  const auto spot = finder(view.symbols[0], 0);
  CHECK(vision::pair_places(std::vector{spot}, view_of(view.gray)).empty());
  std::vector<vision::FinderSpot> crowd(100, spot);
  for (std::size_t i = 0; i < crowd.size(); ++i) crowd[i].centre.x += static_cast<double>(i);
  CHECK(vision::pair_places(crowd, view_of(view.gray)).empty());
  const cv::Mat blank(480, 640, CV_8U, cv::Scalar(200));
  const std::vector<vision::FinderSpot> two{finder(view.symbols[0], 0), finder(view.symbols[0], 1)};
  CHECK(vision::pair_places(two, view_of(blank)).empty());
}

}  // namespace loadlight::vision_tests
