#include "loadlight/core/sweep_guidance.h"

namespace loadlight::core {

std::vector<SweepHint> hints_for(const SweepMeasures& measures) {
  std::vector<SweepHint> hints;
  if (measures.module > 0 && measures.shift > kMostSmear * measures.module) hints.push_back(SweepHint::TooFast);
  if (measures.module > 0 && measures.module < kLeastSweepModule) hints.push_back(SweepHint::TooFar);
  if (measures.brightness < kLeastBrightness) hints.push_back(SweepHint::TooDark);
  return hints;
}

std::optional<double> largest_usable_width(int frame_width, double module_millimetres) {
  if (frame_width <= 0 || !(module_millimetres > 0)) return std::nullopt;
  return frame_width / kLeastSweepModule * module_millimetres;
}

}  // namespace loadlight::core
