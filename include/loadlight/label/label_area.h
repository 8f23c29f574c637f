// Where a whole label lies in a picture, told from where its symbol lies, and whether two labels lie on
// one another.
#pragma once

#include <array>
#include <optional>

#include "loadlight/label/template.h"

namespace loadlight::label {

struct Point final {
  double x = 0;
  double y = 0;
};

// Four corners, clockwise from the thing's own top left; a convex quadrilateral.
using Quad = std::array<Point, 4>;

// The label's outline in the picture's units: the template's cell (or the region its symbol stands in),
// carried over by the plane that the symbol's corners span. `symbol` is the box of the symbol's modules
// without the quiet zone, within the cell; nothing for a degenerate quadrilateral.
std::optional<Quad> label_area(const Box& symbol, const Box& cell, const Quad& symbol_corners);

// A symbol whose label is not known: its own area with the quiet zone, 4 modules of at least 21.
std::optional<Quad> bare_symbol_area(const Quad& symbol_corners);

// The share of the smaller quadrilateral's area that both cover, 0 to 1, both included.
double overlap(const Quad& a, const Quad& b);

}  // namespace loadlight::label
