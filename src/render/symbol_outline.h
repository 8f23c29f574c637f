// The outlines of a symbol's dark areas: closed lines along the edges of modules, as a pen draws them.
#pragma once

#include <vector>

#include "loadlight/core/symbol.h"

namespace loadlight::render {

// A corner of an outline, in modules from the symbol's top left. (inward_x, inward_y), each -1 or 1, points
// to the dark side of both edges that meet there.
struct OutlineCorner final {
  int x;
  int y;
  int inward_x;
  int inward_y;
};
using Outline = std::vector<OutlineCorner>;

// Every outline once, dark on the right of the way along it: clockwise around dark areas, the other way
// around holes, so that the non-zero winding rule fills exactly the dark modules. Dark modules that
// touch at a corner only have outlines of their own.
std::vector<Outline> outlines_of(const core::SymbolGrid& grid);

}  // namespace loadlight::render
