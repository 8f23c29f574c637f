#include "vision/tiles.h"

#include <algorithm>
#include <cassert>
#include <cstdint>

namespace loadlight::vision {
namespace {

struct Span final {
  int start = 0;
  int length = 0;
};

// One direction: the fewest spans, the first at 0, the last ending at `whole`.
std::vector<Span> lay_spans(int whole, int side, int overlap) {
  if (whole <= side) return {{0, whole}};
  const int step = side - overlap;
  const int gaps = (whole - side + step - 1) / step;
  std::vector<Span> spans;
  for (int i = 0; i <= gaps; ++i) {
    const auto start = static_cast<std::int64_t>(whole - side) * i / gaps;
    spans.push_back({static_cast<int>(start), side});
  }
  return spans;
}

}  // namespace

std::vector<Tile> lay_tiles(int width, int height, int side, int overlap) {
  assert(width > 0 && height > 0 && overlap > 0 && side > overlap);
  std::vector<Tile> tiles;
  for (const auto& row : lay_spans(height, side, overlap)) {
    for (const auto& column : lay_spans(width, side, overlap)) {
      tiles.push_back({column.start, row.start, column.length, row.length});
    }
  }
  return tiles;
}

Tile tile_around(const Quadrilateral& place, double sides, port::GrayView picture) {
  const auto centre = centre_of(place);
  const double reach = extent(place) * sides / 2;
  const int left = std::clamp(static_cast<int>(centre.x - reach), 0, picture.width - 1);
  const int top = std::clamp(static_cast<int>(centre.y - reach), 0, picture.height - 1);
  const int right = std::clamp(static_cast<int>(centre.x + reach), left + 1, picture.width);
  const int bottom = std::clamp(static_cast<int>(centre.y + reach), top + 1, picture.height);
  return {left, top, right - left, bottom - top};
}

port::GrayView cut(port::GrayView picture, const Tile& tile) {
  const auto* first = picture.pixels + static_cast<std::ptrdiff_t>(tile.top) * picture.stride + tile.left;
  return {first, tile.width, tile.height, picture.stride};
}

}  // namespace loadlight::vision
