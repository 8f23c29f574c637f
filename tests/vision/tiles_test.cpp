#include "vision/tiles.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <utility>

namespace loadlight::vision {
namespace {

bool holds(const Tile& tile, int x, int y, int width, int height) {
  return x >= tile.left && y >= tile.top && x + width <= tile.left + tile.width &&
         y + height <= tile.top + tile.height;
}

}  // namespace

TEST_CASE("A picture no larger than a tile is one tile") {
  const auto tiles = lay_tiles(300, 200, 300, 50);
  REQUIRE(tiles.size() == 1);
  CHECK(tiles[0].width == 300);
  CHECK(tiles[0].height == 200);
}

TEST_CASE("Whatever is no larger than the overlap lies whole in a tile, and no tile leaves the picture") {
  for (const auto& [width, height] : {std::pair{1000, 700}, {301, 299}, {997, 60}, {3000, 301}}) {
    const auto tiles = lay_tiles(width, height, 300, 90);
    for (const auto& tile : tiles)
      CHECK(holds({0, 0, width, height}, tile.left, tile.top, tile.width, tile.height));
    for (int x = 0; x + 90 <= width; x += 7) {
      for (int y = 0; y + std::min(90, height) <= height; y += 7) {
        const auto within = [&](const Tile& tile) { return holds(tile, x, y, 90, std::min(90, height)); };
        REQUIRE(std::any_of(tiles.begin(), tiles.end(), within));
      }
    }
  }
}

}  // namespace loadlight::vision
