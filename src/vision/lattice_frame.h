// A flat piece of a symbol's lattice in the picture: where its origin lies and how far one module reaches.
#pragma once

#include <cmath>

#include "loadlight/port/picture.h"

namespace loadlight::vision {

struct LatticeFrame final {
  port::PixelPoint origin;
  port::PixelPoint right;  // pixels of one module along u
  port::PixelPoint down;   // pixels of one module along v

  port::PixelPoint at(double u, double v) const {
    return {origin.x + right.x * u + down.x * v, origin.y + right.y * u + down.y * v};
  }

  double determinant() const { return right.x * down.y - right.y * down.x; }

  // A direction of the picture in modules.
  port::PixelPoint direction(port::PixelPoint d) const {
    const double area = determinant();
    return {(d.x * down.y - d.y * down.x) / area, (right.x * d.y - right.y * d.x) / area};
  }

  // The module coordinates of a point of the picture.
  port::PixelPoint modules_at(port::PixelPoint p) const {
    return direction({p.x - origin.x, p.y - origin.y});
  }

  // The same place with the axes a quarter turn further: what pointed right now points down.
  LatticeFrame quarter_turned() const { return {origin, {-down.x, -down.y}, right}; }

  LatticeFrame moved_to(double u, double v) const { return {at(u, v), right, down}; }

  // Pixels a module, the mean of both directions in area.
  double module() const { return std::sqrt(std::abs(determinant())); }
};

}  // namespace loadlight::vision
