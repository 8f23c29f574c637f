// The harms as axes one can move along by name.
#pragma once

#include <span>
#include <string_view>

#include "vision/modelled_label.h"

namespace loadlight::bench {

struct HarmAxis final {
  const char* name;
  double vision_tests::LabelHarms::*value;
  std::span<const double> sweep;  // from a value that everybody reads to one that nobody does
  // Where 60 symbols fall under 90 % read, measured before this model was made: plain ZXing 1.4.0 and zbar.
  double zxing;
  double zbar;
};

std::span<const HarmAxis> harm_axes();

// Programming error to name a harm that is no axis.
void set_harm(vision_tests::LabelHarms& harms, std::string_view name, double value);

}  // namespace loadlight::bench
