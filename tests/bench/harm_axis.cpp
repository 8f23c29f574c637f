#include "bench/harm_axis.h"

#include <stdexcept>

namespace loadlight::bench {
namespace {

using vision_tests::LabelHarms;

// Figures: issue 4, "Where readers stand".
constexpr HarmAxis kAxes[] = {
    {"module", &LabelHarms::module, true, 4, 1, 1.83, 2.45},
    {"curl", &LabelHarms::curl, false, 10, 100, 45, 43},
    {"wrinkle", &LabelHarms::wrinkle, false, 0.02, 0.5, 0.15, 0.08},
    {"defocus", &LabelHarms::defocus, false, 0.5, 3, 1.56, 1.18},
    {"glare", &LabelHarms::glare, false, 0.001, 0.08, 0.011, 0.013},
    {"tape", &LabelHarms::tape, false, 0.005, 0.2, 0.04, 0.05},
    {"contrast", &LabelHarms::contrast, true, 0.8, 0.03, 0.38, 0.10},
    {"noise", &LabelHarms::noise, false, 5, 100, 34, 21},
};

}  // namespace

std::span<const HarmAxis> harm_axes() {
  return kAxes;
}

void set_harm(LabelHarms& harms, std::string_view name, double value) {
  for (const auto& axis : kAxes) {
    if (name == axis.name) {
      harms.*axis.value = value;
      return;
    }
  }
  throw std::invalid_argument("no such harm");
}

}  // namespace loadlight::bench
