// Measures how a symbol is printed, as far as a picture shows it.
#pragma once

#include <optional>

#include "loadlight/core/print_grade.h"
#include "loadlight/port/picture.h"
#include "vision/grid_decoder.h"
#include "vision/grid_map.h"

namespace loadlight::vision {

// Along the parameters of ISO/IEC 15415, of a symbol that lies in the picture as the map says. Nothing if the
// map is of another size, a corner lies outside the picture, or all modules are alike. A photograph's
// perspective is taken off before the grid is judged, and what is left of it is not the print's doing.
std::optional<core::PrintMeasures> measure_print(port::GrayView picture, const GridMap& map,
                                                 const DecodedGrid& decoded);

}  // namespace loadlight::vision
