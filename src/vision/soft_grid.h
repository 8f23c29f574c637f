// What pictures say about each module of one symbol.
#pragma once

#include <span>
#include <vector>

namespace loadlight::vision {

// The most that is said of one module, either way.
inline constexpr float kMostLikelihood = 8;

// Modules row by row from the symbol's own top left. Each value is the natural logarithm of how much likelier
// the module is dark than light, from -kMostLikelihood to kMostLikelihood (both included), and exactly 0
// where nothing is known: blown out, covered, out of the picture.
struct SoftGrid final {
  int side = 0;             // modules
  std::vector<float> dark;  // side * side

  float at(int x, int y) const {
    return dark[static_cast<std::size_t>(y) * static_cast<std::size_t>(side) + static_cast<std::size_t>(x)];
  }
};

// Whether it has the size of a version (qr_structure.h) and as many values, all of them finite.
bool is_sound(const SoftGrid& grid);

// What several shots of one symbol say together: the sum, clipped to the range above. All grids have one
// side; of none, an empty grid.
SoftGrid fuse(std::span<const SoftGrid> shots);

}  // namespace loadlight::vision
