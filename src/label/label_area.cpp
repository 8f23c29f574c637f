#include "loadlight/label/label_area.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace loadlight::label {
namespace {

using Polygon = std::vector<Point>;

double cross(Point a, Point b) { return a.x * b.y - a.y * b.x; }
Point minus(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }

// Half the sum of cross products: positive for corners that run clockwise where y grows down.
double signed_area(const Polygon& polygon) {
  double sum = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    sum += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
  }
  return sum / 2;
}

// A projective map of the unit square onto a quadrilateral (Heckbert's closed form).
struct SquareToQuad final {
  double a, b, c, d, e, f, g, h;

  static std::optional<SquareToQuad> onto(const Quad& q) {
    const Point s{q[0].x - q[1].x + q[2].x - q[3].x, q[0].y - q[1].y + q[2].y - q[3].y};
    const Point u = minus(q[1], q[2]);
    const Point v = minus(q[3], q[2]);
    const double det = cross(u, v);
    if (!std::isfinite(det) || std::abs(det) < 1e-9) return std::nullopt;
    const double g = cross(s, v) / det;
    const double h = cross(u, s) / det;
    return SquareToQuad{q[1].x - q[0].x + g * q[1].x, q[3].x - q[0].x + h * q[3].x, q[0].x,
                        q[1].y - q[0].y + g * q[1].y, q[3].y - q[0].y + h * q[3].y, q[0].y,
                        g, h};
  }

  std::optional<Point> at(double u, double v) const {
    const double w = g * u + h * v + 1;
    if (w < 1e-6) return std::nullopt;  // beyond the horizon of the plane
    return Point{(a * u + b * v + c) / w, (d * u + e * v + f) / w};
  }
};

// The part of `subject` on the inner side of the edge from `a` to `b` (one step of Sutherland-Hodgman).
Polygon clip(const Polygon& subject, Point a, Point b, double turn) {
  const auto inside = [&](Point p) { return turn * cross(minus(b, a), minus(p, a)); };
  Polygon kept;
  for (std::size_t i = 0; i < subject.size(); ++i) {
    const Point p = subject[i];
    const Point q = subject[(i + 1) % subject.size()];
    const double ip = inside(p);
    const double iq = inside(q);
    if (ip >= 0) kept.push_back(p);
    if ((ip > 0 && iq < 0) || (ip < 0 && iq > 0)) {
      const double t = ip / (ip - iq);
      kept.push_back({p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)});
    }
  }
  return kept;
}

}  // namespace

std::optional<Quad> label_area(const Box& symbol, const Box& cell, const Quad& symbol_corners) {
  if (symbol.width <= 0 || symbol.height <= 0) return std::nullopt;
  const auto plane = SquareToQuad::onto(symbol_corners);
  if (!plane) return std::nullopt;
  const double left = (cell.x - symbol.x) / symbol.width;
  const double right = (cell.right() - symbol.x) / symbol.width;
  const double top = (cell.y - symbol.y) / symbol.height;
  const double bottom = (cell.bottom() - symbol.y) / symbol.height;
  const std::array<std::optional<Point>, 4> corners{plane->at(left, top), plane->at(right, top),
                                                    plane->at(right, bottom), plane->at(left, bottom)};
  Quad area;
  for (std::size_t i = 0; i < 4; ++i) {
    if (!corners[i]) return std::nullopt;
    area[i] = *corners[i];
  }
  return area;
}

std::optional<Quad> bare_symbol_area(const Quad& symbol_corners) {
  constexpr double kQuiet = 4.0 / 21;
  return label_area({0, 0, 1, 1}, {-kQuiet, -kQuiet, 1 + 2 * kQuiet, 1 + 2 * kQuiet}, symbol_corners);
}

double overlap(const Quad& a, const Quad& b) {
  Polygon common(a.begin(), a.end());
  const Polygon other(b.begin(), b.end());
  const double area_a = std::abs(signed_area(common));
  const double area_b = std::abs(signed_area(other));
  if (!(area_a > 0) || !(area_b > 0)) return 0;
  const double turn = signed_area(other) > 0 ? 1 : -1;
  for (std::size_t i = 0; i < other.size() && !common.empty(); ++i) {
    common = clip(common, other[i], other[(i + 1) % other.size()], turn);
  }
  if (common.size() < 3) return 0;
  return std::clamp(std::abs(signed_area(common)) / std::min(area_a, area_b), 0.0, 1.0);
}

}  // namespace loadlight::label
