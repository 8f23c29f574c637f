// What to tell somebody who sweeps a camera along a shelf.
#pragma once

#include <optional>
#include <vector>

#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

enum class SweepHint {
  TooFast,  // labels pass in too few frames, or smear over more than they bear
  TooFar,   // modules too small for this reader
  TooDark,
};

struct SweepMeasures final {
  double shift = 0;       // how far the scene moves from frame to frame, pixels
  double module = 0;      // pixels a module; 0: no label in view
  double brightness = 0;  // mean grey level, 0 to 255
  int width = 0;          // of the frame, pixels
};

// Chosen by what the reader is built for; not measured on sweeps yet.
inline constexpr double kLeastSweepModule = 1.5;   // pixels a module, under which labels are missed
inline constexpr double kMostSmear = 1.6;          // modules a frame
inline constexpr double kLeastBrightness = 45;     // grey level

// Every hint that applies, in the order of the enumeration.
std::vector<SweepHint> hints_for(const SweepMeasures& measures);

// The widest piece of shelf, in millimetres, that a frame may show so that modules of this size keep
// kLeastSweepModule pixels. Nothing for sizes of 0 or less.
std::optional<double> largest_usable_width(int frame_width, double module_millimetres);

template <>
struct Vocabulary<SweepHint> {
  static constexpr Term<SweepHint> kTerms[] = {{SweepHint::TooFast, "too-fast"},
                                               {SweepHint::TooFar, "too-far"},
                                               {SweepHint::TooDark, "too-dark"}};
};

}  // namespace loadlight::core
