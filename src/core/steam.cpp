#include "loadlight/core/steam.h"

#include <array>
#include <cmath>

namespace loadlight::core {
namespace {

constexpr double kKelvinAtZeroCelsius = 273.15;
constexpr double kKpaPerMpa = 1000;

// The pressures of the line's ends, as the equation gives them; IF97 states 611.213 Pa to 22.064 MPa.
constexpr double kLowestKpa = 0.611213;
constexpr double kHighestKpa = 22064.0;

// Coefficients n1 to n10 (R7-97(2012), table 34); n[0] is not used, so that the numbers are the table's.
constexpr std::array<double, 11> n{0,
                                   0.11670521452767e4,
                                   -0.72421316703206e6,
                                   -0.17073846940092e2,
                                   0.12020824702470e5,
                                   -0.32325550322333e7,
                                   0.14915108613530e2,
                                   -0.48232657361591e4,
                                   0.40511340542057e6,
                                   -0.23855557567849,
                                   0.65017534844798e3};

}  // namespace

std::optional<double> saturation_pressure_kpa(double celsius) {
  if (!(celsius >= kLowestSteamCelsius && celsius <= kHighestSteamCelsius)) return std::nullopt;
  const double kelvin = celsius + kKelvinAtZeroCelsius;
  const double theta = kelvin + n[9] / (kelvin - n[10]);
  const double a = theta * theta + n[1] * theta + n[2];
  const double b = n[3] * theta * theta + n[4] * theta + n[5];
  const double c = n[6] * theta * theta + n[7] * theta + n[8];
  const double root = 2 * c / (-b + std::sqrt(b * b - 4 * a * c));
  return root * root * root * root * kKpaPerMpa;
}

std::optional<double> saturation_celsius(double kpa_abs) {
  if (!(kpa_abs >= kLowestKpa && kpa_abs <= kHighestKpa)) return std::nullopt;
  const double beta = std::sqrt(std::sqrt(kpa_abs / kKpaPerMpa));
  const double e = beta * beta + n[3] * beta + n[6];
  const double f = n[1] * beta * beta + n[4] * beta + n[7];
  const double g = n[2] * beta * beta + n[5] * beta + n[8];
  const double d = 2 * g / (-f - std::sqrt(f * f - 4 * e * g));
  const double sum = n[10] + d;
  return (sum - std::sqrt(sum * sum - 4 * (n[9] + n[10] * d))) / 2 - kKelvinAtZeroCelsius;
}

}  // namespace loadlight::core
