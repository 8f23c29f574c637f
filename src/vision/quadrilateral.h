// Where a symbol lies: its four corners in pixels, and the few measures of them that reading needs.
#pragma once

#include <array>

#include "loadlight/port/picture.h"

namespace loadlight::vision {

using Quadrilateral = port::Corners;

// Upright, with so many pixels on every side of its middle.
Quadrilateral square_around(port::PixelPoint middle, double reach);

port::PixelPoint centre_of(const Quadrilateral& corners);

// Mean length of the four sides, pixels.
double mean_side(const Quadrilateral& corners);

// Strictly inside a convex quadrilateral, whichever way round its corners run.
bool contains(const Quadrilateral& corners, port::PixelPoint point);

// Two sightings of one physical symbol: the centre of either lies inside the other.
bool same_place(const Quadrilateral& one, const Quadrilateral& other);

// Any part of one lies on the other, as far as their corners and centres tell.
bool overlap(const Quadrilateral& one, const Quadrilateral& other);

// The longer side of the upright box around it, pixels.
double extent(const Quadrilateral& corners);

// The same first corner, the others clockwise as seen in the picture (y grows down).
Quadrilateral clockwise(const Quadrilateral& corners);

// Corners measured in a part of the picture that was enlarged by `scale` and began at (left, top).
Quadrilateral placed(const Quadrilateral& corners, double scale, double left, double top);

}  // namespace loadlight::vision
