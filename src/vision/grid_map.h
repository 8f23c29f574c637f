// Where the modules of one symbol lie in a picture, however it is bent.
#pragma once

#include <vector>

#include "loadlight/port/picture.h"

namespace loadlight::vision {

// From module coordinates to pixels: (0, 0) is the outer top left corner of the symbol, (side, side) its
// bottom right one. Straight between neighbouring corners of modules; beyond the symbol it goes on straight.
class GridMap final {
 public:
  // Corners of modules row by row, (side + 1) * (side + 1) of them; side is at least 1.
  GridMap(int side, std::vector<port::PixelPoint> nodes);

  int side() const { return side_; }  // modules
  port::PixelPoint at(double u, double v) const;

  // Of the whole symbol, from its top left on as the module coordinates run.
  port::Corners corners() const;

  // Pixels a module, the mean over the symbol.
  double module() const;

  // The same lattice read from another corner: what was its bottom left corner after one quarter turn is its
  // top left. 0 to 3 turns.
  GridMap turned(int quarters) const;

  // The same lattice in a picture in which this one was enlarged by `scale` and began at (left, top).
  GridMap placed(double scale, double left, double top) const;

 private:
  const port::PixelPoint& node(int u, int v) const;

  int side_;
  std::vector<port::PixelPoint> nodes_;
};

}  // namespace loadlight::vision
