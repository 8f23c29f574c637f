#include "vision/sightings.h"

#include <catch2/catch.hpp>

namespace loadlight::vision {
namespace {

Quadrilateral square(double x, double y, double side) {
  return {{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}};
}

}  // namespace

TEST_CASE("The same text at the same place is one sighting, whatever part of the picture it was met in") {
  Sightings sightings;
  CHECK(sightings.add({{"A", square(100, 100, 50)}}, {}) == 1);
  CHECK(sightings.add({{"A", square(4, 4, 100)}}, {2, 100, 99}) == 0);
  CHECK(sightings.add({{"A", square(160, 100, 50)}}, {}) == 1);
  CHECK(sightings.add({{"B", square(100, 100, 50)}}, {}) == 1);
  CHECK(sightings.all().size() == 3);
}

TEST_CASE("Reading order is by rows that may lean, then left to right") {
  Sightings sightings;
  sightings.add({{"d", square(300, 250, 50)},
                 {"b", square(200, 112, 50)},
                 {"a", square(10, 100, 50)},
                 {"c", square(20, 240, 50)},
                 {"e", square(5, 400, 50)}},
                {});
  std::string order;
  for (const auto& sighting : sightings.in_reading_order()) order += sighting.text;
  CHECK(order == "abcde");
}

TEST_CASE("A place that any part of a read symbol lies on is covered, one beside it is not") {
  Sightings sightings;
  sightings.add({{"A", square(100, 100, 50)}}, {});
  CHECK(sightings.cover(port::PixelPoint{125, 125}));
  CHECK(!sightings.cover(port::PixelPoint{99, 125}));
  CHECK(sightings.cover(square(140, 140, 200)));
  CHECK(!sightings.cover(square(160, 100, 50)));
}

TEST_CASE("Corners are set clockwise without moving the first") {
  const Quadrilateral anticlockwise{{{0, 0}, {0, 9}, {9, 9}, {9, 0}}};
  const auto turned = clockwise(anticlockwise);
  CHECK(turned[0].x == 0);
  CHECK(turned[1].x == 9);
  CHECK(turned[1].y == 0);
  CHECK(turned[3].y == 9);
}

}  // namespace loadlight::vision
