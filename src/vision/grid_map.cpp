#include "vision/grid_map.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "vision/quadrilateral.h"

namespace loadlight::vision {
namespace {

port::PixelPoint between(port::PixelPoint a, port::PixelPoint b, double share) {
  return {a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share};
}

}  // namespace

GridMap::GridMap(int side, std::vector<port::PixelPoint> nodes) : side_(side), nodes_(std::move(nodes)) {
  assert(side_ >= 1 && nodes_.size() == static_cast<std::size_t>((side_ + 1) * (side_ + 1)));
}

const port::PixelPoint& GridMap::node(int u, int v) const {
  return nodes_[static_cast<std::size_t>(v * (side_ + 1) + u)];
}

port::PixelPoint GridMap::at(double u, double v) const {
  const int column = std::clamp(static_cast<int>(std::floor(u)), 0, side_ - 1);
  const int row = std::clamp(static_cast<int>(std::floor(v)), 0, side_ - 1);
  const auto upper = between(node(column, row), node(column + 1, row), u - column);
  const auto lower = between(node(column, row + 1), node(column + 1, row + 1), u - column);
  return between(upper, lower, v - row);
}

port::Corners GridMap::corners() const {
  return {node(0, 0), node(side_, 0), node(side_, side_), node(0, side_)};
}

double GridMap::module() const {
  return mean_side(corners()) / side_;
}

GridMap GridMap::turned(int quarters) const {
  std::vector<port::PixelPoint> nodes(nodes_.size());
  auto* next = nodes.data();
  for (int v = 0; v <= side_; ++v) {
    for (int u = 0; u <= side_; ++u) {
      switch (quarters & 3) {
        case 0:
          *next++ = node(u, v);
          break;
        case 1:
          *next++ = node(v, side_ - u);
          break;
        case 2:
          *next++ = node(side_ - u, side_ - v);
          break;
        case 3:
          *next++ = node(side_ - v, u);
          break;
      }
    }
  }
  return {side_, std::move(nodes)};
}

GridMap GridMap::placed(double scale, double left, double top) const {
  auto nodes = nodes_;
  for (auto& node : nodes) node = {node.x / scale + left, node.y / scale + top};
  return {side_, std::move(nodes)};
}

}  // namespace loadlight::vision
