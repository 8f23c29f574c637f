#include "vision/quadrilateral.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loadlight::vision {
namespace {

// Twice the signed area of the triangle; positive when c lies clockwise of a-b in the picture.
double cross(port::PixelPoint a, port::PixelPoint b, port::PixelPoint c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

double doubled_area(const Quadrilateral& q) {
  return cross(q[0], q[1], q[2]) + cross(q[0], q[2], q[3]);
}

}  // namespace

Quadrilateral square_around(port::PixelPoint middle, double reach) {
  const auto [x, y] = middle;
  return {{{x - reach, y - reach}, {x + reach, y - reach}, {x + reach, y + reach}, {x - reach, y + reach}}};
}

port::PixelPoint centre_of(const Quadrilateral& corners) {
  port::PixelPoint sum;
  for (const auto& corner : corners) {
    sum.x += corner.x / 4;
    sum.y += corner.y / 4;
  }
  return sum;
}

double mean_side(const Quadrilateral& corners) {
  double sum = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    const auto& next = corners[(i + 1) % 4];
    sum += std::hypot(next.x - corners[i].x, next.y - corners[i].y);
  }
  return sum / 4;
}

bool contains(const Quadrilateral& corners, port::PixelPoint point) {
  int clockwise_of = 0;
  int anticlockwise_of = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    const double side = cross(corners[i], corners[(i + 1) % 4], point);
    clockwise_of += side > 0;
    anticlockwise_of += side < 0;
  }
  return clockwise_of == 4 || anticlockwise_of == 4;
}

bool same_place(const Quadrilateral& one, const Quadrilateral& other) {
  return contains(one, centre_of(other)) || contains(other, centre_of(one));
}

bool overlap(const Quadrilateral& one, const Quadrilateral& other) {
  const auto meets = [](const Quadrilateral& whole, const Quadrilateral& corners) {
    return std::any_of(corners.begin(), corners.end(), [&](auto corner) { return contains(whole, corner); });
  };
  return same_place(one, other) || meets(one, other) || meets(other, one);
}

double extent(const Quadrilateral& corners) {
  const auto by_x = [](auto a, auto b) { return a.x < b.x; };
  const auto by_y = [](auto a, auto b) { return a.y < b.y; };
  const auto [left, right] = std::minmax_element(corners.begin(), corners.end(), by_x);
  const auto [top, bottom] = std::minmax_element(corners.begin(), corners.end(), by_y);
  return std::max(right->x - left->x, bottom->y - top->y);
}

Quadrilateral clockwise(const Quadrilateral& corners) {
  Quadrilateral turned = corners;
  if (doubled_area(corners) < 0) std::swap(turned[1], turned[3]);
  return turned;
}

Quadrilateral placed(const Quadrilateral& corners, double scale, double left, double top) {
  Quadrilateral result;
  for (std::size_t i = 0; i < 4; ++i) {
    result[i] = {corners[i].x / scale + left, corners[i].y / scale + top};
  }
  return result;
}

}  // namespace loadlight::vision
