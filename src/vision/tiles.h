// Cutting a picture into overlapping tiles, so that a crowd of symbols is met a few at a time.
#pragma once

#include <vector>

#include "vision/quadrilateral.h"

namespace loadlight::vision {

// Pixels; lies wholly in the picture it was cut from.
struct Tile final {
  int left = 0;
  int top = 0;
  int width = 0;
  int height = 0;
};

// Tiles of at most `side` that cover width x height, row by row, evenly spread. Whatever is no larger than
// `overlap` (less than `side`; all of them at least 1) in both directions lies wholly in at least one.
std::vector<Tile> lay_tiles(int width, int height, int side, int overlap);

// The square around a place, `sides` times as wide as its outline, as far as it lies in the picture.
Tile tile_around(const Quadrilateral& place, double sides, port::GrayView picture);

// The tile's own pixels.
port::GrayView cut(port::GrayView picture, const Tile& tile);

}  // namespace loadlight::vision
