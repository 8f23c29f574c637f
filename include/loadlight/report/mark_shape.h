// How a label is outlined in a picture. The outcome shows in shape and pattern, so that a copy in black and
// white tells it: clear is a thin outline; hold a dashed one with a bar across; do not use a thick one with
// a cross. On paper and in a browser alike.
#pragma once

#include <array>
#include <utility>
#include <vector>

#include "loadlight/core/reasons.h"

namespace loadlight::report {

using MarkPoint = std::pair<double, double>;  // x, y in pixels of the picture

struct MarkStroke final {
  std::vector<MarkPoint> points;
  bool closed = false;
  double width = 0;            // pixels
  std::vector<double> dashes;  // lengths of ink and gap in pixels; none: solid
};

struct MarkShape final {
  std::vector<MarkStroke> strokes;
  MarkPoint label{};  // where the number's plate stands: its bottom left corner
};

struct MarkField final {
  double width = 0;  // pixels of the picture, which no mark leaves
  double height = 0;
  double thin = 1;  // pixels of the thinnest stroke
};

// Without strokes where a corner is no number.
MarkShape mark_shape(const std::array<MarkPoint, 4>& corners, core::Outcome outcome, const MarkField& field);

}  // namespace loadlight::report
