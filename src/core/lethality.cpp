#include "loadlight/core/lethality.h"

#include <cmath>

namespace loadlight::core {
namespace {

constexpr double kLn10 = 2.302585092994045684;

// sinh(x) / x, which tends to 1; below 1e-4 its next term (x^4 / 120) is under a double's resolution.
double sinhc(double x) {
  return std::fabs(x) < 1e-4 ? 1 + x * x / 6 : std::sinh(x) / x;
}

}  // namespace

double lethal_rate(double celsius, const F0Convention& convention) {
  return std::exp(kLn10 * (celsius - convention.reference_celsius) / convention.z_kelvin);
}

double lethality_minutes(double minutes, double from_celsius, double to_celsius,
                         const F0Convention& convention) {
  const double middle = (from_celsius + to_celsius) / 2;
  const double half_span = kLn10 * (to_celsius - from_celsius) / (2 * convention.z_kelvin);
  return minutes * lethal_rate(middle, convention) * sinhc(half_span);
}

}  // namespace loadlight::core
