// Cutting a picture into overlapping tiles, so that a crowd of symbols is met a few at a time.
#pragma once

#include <vector>

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

}  // namespace loadlight::vision
