// Sets a text in a box: on one line at its full size, then smaller, then on several lines.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "loadlight/core/result.h"
#include "loadlight/label/press.h"
#include "loadlight/label/template.h"

namespace loadlight::label {

// A text that fits. Lengths in millimetres.
struct TextBlock final {
  TextStyle style;
  std::vector<TextLine> lines;
  std::vector<double> baselines;  // from the block's top, one a line
  double height = 0;
};

// Tries, in this order, and takes the first that lies in the box with all its ink:
//   1. one line, from size_pt down to min_pt in quarter points;
//   2. up to shape.lines lines broken at words, from size_pt down again;
//   3. the same at min_pt, broken anywhere.
// Nothing when none does. Fails only as the gauge does.
core::Result<std::optional<TextBlock>> fit_text(std::string_view text, const TextShape& shape, double width,
                                                double height, const TextGauge& gauge);

// The block in its box, as drawn texts.
std::vector<DrawnText> set_in(const TextBlock& block, const Box& box, Align align, Upright upright);

}  // namespace loadlight::label
