#include "render/symbol_outline.h"

namespace loadlight::render {
namespace {

struct Step final {
  int x;
  int y;
};
// Right, down, left, up: each the right turn of the one before.
constexpr Step kWays[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};

// Finds and follows the edges between dark and light modules. A corner of the grid is named by the
// module to its lower right.
class Tracer final {
 public:
  explicit Tracer(const core::SymbolGrid& grid)
      : grid_(grid), side_(grid.form.side()), seen_(static_cast<std::size_t>((side_ + 1) * (side_ + 1))) {}

  std::vector<Outline> trace() {
    std::vector<Outline> outlines;
    for (int y = 0; y <= side_; ++y) {
      for (int x = 0; x <= side_; ++x) {
        // Every outline runs to the right somewhere.
        if (is_edge(x, y, 0) && !seen(x, y)) outlines.push_back(follow(x, y));
      }
    }
    return outlines;
  }

 private:
  bool dark(int x, int y) const { return x >= 0 && y >= 0 && x < side_ && y < side_ && grid_.dark(x, y); }

  // Whether an edge with dark on its right leaves corner (x, y) along `way`.
  bool is_edge(int x, int y, int way) const {
    switch (way) {
      case 0:
        return dark(x, y) && !dark(x, y - 1);
      case 1:
        return dark(x - 1, y) && !dark(x, y);
      case 2:
        return dark(x - 1, y - 1) && !dark(x - 1, y);
      case 3:
        return dark(x, y - 1) && !dark(x - 1, y - 1);
    }
    return false;
  }

  // Only edges that run to the right are remembered: they start outlines.
  std::vector<bool>::reference seen(int x, int y) {
    return seen_[static_cast<std::size_t>(y * (side_ + 1) + x)];
  }

  // The right turn first, so that a module stays apart from one that it touches at a corner.
  int next_way(int x, int y, int way) const {
    for (int turn : {1, 0, 3}) {
      if (is_edge(x, y, (way + turn) % 4)) return (way + turn) % 4;
    }
    return way;
  }

  Outline follow(int x, int y) {
    Outline outline;
    int way = 0;
    while (way != 0 || !seen(x, y)) {
      if (way == 0) seen(x, y) = true;
      x += kWays[way].x;
      y += kWays[way].y;
      const int next = next_way(x, y, way);
      if (next != way) outline.push_back(corner(x, y, way, next));
      way = next;
    }
    return outline;
  }

  // Dark lies to the right of a way: right of (1, 0) is (0, 1).
  static OutlineCorner corner(int x, int y, int in, int out) {
    return {x, y, -kWays[in].y - kWays[out].y, kWays[in].x + kWays[out].x};
  }

  const core::SymbolGrid& grid_;
  const int side_;
  std::vector<bool> seen_;
};

}  // namespace

std::vector<Outline> outlines_of(const core::SymbolGrid& grid) {
  return Tracer{grid}.trace();
}

}  // namespace loadlight::render
