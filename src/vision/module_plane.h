// One number for each module of a symbol.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace loadlight::vision {

// Row by row from the top left.
struct ModulePlane final {
  int side = 0;  // modules
  std::vector<double> values;

  explicit ModulePlane(int modules, double value = 0)
      : side(modules), values(static_cast<std::size_t>(modules * modules), value) {}

  double& at(int x, int y) { return values[static_cast<std::size_t>(y * side + x)]; }
  double at(int x, int y) const { return values[static_cast<std::size_t>(y * side + x)]; }
  bool has(int x, int y) const { return x >= 0 && y >= 0 && x < side && y < side; }
};

inline double median_of(std::vector<double> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

}  // namespace loadlight::vision
