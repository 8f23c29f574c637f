// A cycle's plot as lines and texts. A press draws black lines alone, so that curves differ by width and
// dashes, the band is hatched and the exposure has a bar over it.
#pragma once

#include <vector>

#include "loadlight/core/result.h"
#include "loadlight/label/press.h"
#include "loadlight/report/cycle_plot.h"

namespace loadlight::app {

// Lengths in millimetres, from the drawing's top left.
struct Drawing final {
  double height = 0;
  std::vector<label::Drawn> items;
};

// Without the plot's title: the page's own heading stands over it. Curves are reduced to what print can
// show.
core::Result<Drawing> draw_plot(const report::CyclePlot& plot, const label::TextGauge& gauge);

void place(Drawing drawing, double x, double y, label::Page& page);

}  // namespace loadlight::app
