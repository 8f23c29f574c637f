#include "app/curve_strokes.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loadlight::app {
namespace {

using label::DrawnLine;
using report::PlotPoint;

// From `p` to the straight line through `a` and `b`, or to `a` where they are one.
double distance_to(const PlotPoint& p, const PlotPoint& a, const PlotPoint& b) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double length = std::hypot(dx, dy);
  if (length <= 0) return std::hypot(p.x - a.x, p.y - a.y);
  return std::abs(dx * (p.y - a.y) - dy * (p.x - a.x)) / length;
}

// The point between two kept ones that lies furthest from their line.
std::pair<std::size_t, double> furthest(const std::vector<PlotPoint>& points, std::size_t first,
                                        std::size_t last) {
  std::pair<std::size_t, double> worst{first, 0};
  for (std::size_t i = first + 1; i < last; ++i) {
    const double distance = distance_to(points[i], points[first], points[last]);
    if (distance > worst.second) worst = {i, distance};
  }
  return worst;
}

// Walks along a curve, with the pen down for a dash and up for a space.
class DashedPen final {
 public:
  explicit DashedPen(const StrokeStyle& style) : style_(style), left_(style.dash) {}

  void go(const PlotPoint& from, const PlotPoint& to) {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    for (double at = 0; at < length;) {
      const double step = std::min(left_, length - at);
      if (down_) draw(from, to, at / length, (at + step) / length);
      at += step;
      left_ -= step;
      if (left_ <= 1e-9) turn();
    }
  }
  std::vector<DrawnLine> take() { return std::move(lines_); }

 private:
  void draw(const PlotPoint& from, const PlotPoint& to, double start, double end) {
    const auto x = [&](double part) { return from.x + (to.x - from.x) * part; };
    const auto y = [&](double part) { return from.y + (to.y - from.y) * part; };
    lines_.push_back({x(start), y(start), x(end), y(end), style_.width});
  }
  void turn() {
    down_ = !down_;
    left_ = down_ ? style_.dash : style_.space;
  }

  StrokeStyle style_;
  double left_;
  bool down_ = true;
  std::vector<DrawnLine> lines_;
};

}  // namespace

// Douglas and Peucker's way, without recursion.
std::vector<PlotPoint> reduced(const std::vector<PlotPoint>& points, double tolerance) {
  if (points.size() < 3) return points;
  std::vector<char> kept(points.size(), 0);
  kept.front() = kept.back() = 1;
  std::vector<std::pair<std::size_t, std::size_t>> spans{{0, points.size() - 1}};
  while (!spans.empty()) {
    const auto [first, last] = spans.back();
    spans.pop_back();
    const auto [at, distance] = furthest(points, first, last);
    if (distance <= tolerance) continue;
    kept[at] = 1;
    spans.emplace_back(first, at);
    spans.emplace_back(at, last);
  }
  std::vector<PlotPoint> left;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (kept[i]) left.push_back(points[i]);
  }
  return left;
}

std::vector<DrawnLine> strokes_of(const std::vector<PlotPoint>& points, const StrokeStyle& style) {
  std::vector<DrawnLine> lines;
  if (style.dash > 0) {
    DashedPen pen{style};
    for (std::size_t i = 1; i < points.size(); ++i) pen.go(points[i - 1], points[i]);
    return pen.take();
  }
  for (std::size_t i = 1; i < points.size(); ++i) {
    lines.push_back({points[i - 1].x, points[i - 1].y, points[i].x, points[i].y, style.width});
  }
  return lines;
}

std::vector<DrawnLine> hatching(const report::PlotBox& box, double distance, double width) {
  std::vector<DrawnLine> lines;
  const double right = box.x + box.width, bottom = box.y + box.height;
  // Each line rises to the right and begins on the bottom's prolongation to the left.
  for (double start = box.x - box.height + distance; start < right; start += distance) {
    const double x1 = std::max(start, box.x), x2 = std::min(start + box.height, right);
    if (x2 > x1) lines.push_back({x1, bottom - (x1 - start), x2, bottom - (x2 - start), width});
  }
  return lines;
}

}  // namespace loadlight::app
