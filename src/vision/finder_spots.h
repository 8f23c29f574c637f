// Where the finder patterns of QR symbols seem to be: dark-light-dark-light-dark runs of 1:1:3:1:1 along a
// row and down the column through its middle.
#pragma once

#include <vector>

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

struct FinderSpot final {
  port::PixelPoint centre;
  double module = 0;  // pixels, the mean of both directions
};

// Grey levels under its surroundings' mean that make a pixel dark: in good sight, where all is pale, and where
// noise is left.
inline constexpr int kDarker = 6;
inline constexpr int kPalelyDarker = 2;
inline constexpr int kMuchDarker = 16;

// At most 600 spots. Modules from about 2 to 60 pixels, at any turn. Throws what OpenCV throws.
std::vector<FinderSpot> find_finder_spots(port::GrayView view, int darker = kDarker);

}  // namespace loadlight::vision
