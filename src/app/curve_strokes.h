// A curve as the strokes that draw it. Lengths in millimetres.
#pragma once

#include <vector>

#include "loadlight/label/press.h"
#include "loadlight/report/cycle_plot.h"

namespace loadlight::app {

// Points of a curve from which no other lies further off than `tolerance`; the ends stay.
std::vector<report::PlotPoint> reduced(const std::vector<report::PlotPoint>& points, double tolerance);

struct StrokeStyle final {
  double width = 0.2;
  double dash = 0;  // 0: solid
  double space = 0;
};

std::vector<label::DrawnLine> strokes_of(const std::vector<report::PlotPoint>& points,
                                         const StrokeStyle& style);
// Slanted lines across a box, `distance` apart.
std::vector<label::DrawnLine> hatching(const report::PlotBox& box, double distance, double width);

}  // namespace loadlight::app
