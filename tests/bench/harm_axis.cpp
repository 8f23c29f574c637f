#include "bench/harm_axis.h"

#include <stdexcept>

namespace loadlight::bench {
namespace {

using vision_tests::LabelHarms;

constexpr double kModules[] = {4, 3, 2.5, 2, 1.5, 1.25, 1};
constexpr double kCurls[] = {0, 40, 80, 120};
constexpr double kWrinkles[] = {0, 0.25, 0.5, 0.75};
constexpr double kDefocus[] = {0, 0.5, 1, 1.5, 2, 2.5};
constexpr double kGlares[] = {0, 0.03, 0.06, 0.09, 0.12};
constexpr double kTapes[] = {0, 0.05, 0.1, 0.15, 0.2};
constexpr double kContrasts[] = {0.8, 0.6, 0.4, 0.3, 0.2, 0.1, 0.05, 0.03};
constexpr double kNoises[] = {3, 10, 20, 30, 60, 90};

// Figures: issue 4, "Where readers stand". The steps are not known: see "The model" in reading_notes.md.
constexpr HarmAxis kAxes[] = {
    {"module", &LabelHarms::module, kModules, 1.83, 2.45},
    {"curl", &LabelHarms::curl, kCurls, 45, 43},
    {"wrinkle", &LabelHarms::wrinkle, kWrinkles, 0.15, 0.08},
    {"defocus", &LabelHarms::defocus, kDefocus, 1.56, 1.18},
    {"glare", &LabelHarms::glare, kGlares, 0.011, 0.013},
    {"tape", &LabelHarms::tape, kTapes, 0.04, 0.05},
    {"contrast", &LabelHarms::contrast, kContrasts, 0.38, 0.10},
    {"noise", &LabelHarms::noise, kNoises, 34, 21},
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
