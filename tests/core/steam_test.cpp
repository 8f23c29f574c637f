#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "loadlight/core/steam.h"

namespace loadlight::core {
namespace {

constexpr double kNotANumber = std::numeric_limits<double>::quiet_NaN();

// Half a unit of the ninth digit of a published value.
Approx nine_digits(double value) {
  return Approx(value).epsilon(0).margin(0.5 * std::pow(10, std::floor(std::log10(value)) - 8));
}

TEST_CASE("Saturation pressure agrees with table 35 of IF97", "[R33]") {
  // IAPWS R7-97(2012), table 35.
  CHECK(*saturation_pressure_kpa(300 - 273.15) == nine_digits(0.353658941e1));
  CHECK(*saturation_pressure_kpa(500 - 273.15) == nine_digits(0.263889776e4));
  CHECK(*saturation_pressure_kpa(600 - 273.15) == nine_digits(0.123443146e5));
}

TEST_CASE("Saturation temperature agrees with table 36 of IF97", "[R33]") {
  // IAPWS R7-97(2012), table 36.
  CHECK(*saturation_celsius(100) + 273.15 == nine_digits(0.372755919e3));
  CHECK(*saturation_celsius(1000) + 273.15 == nine_digits(0.453035632e3));
  CHECK(*saturation_celsius(10000) + 273.15 == nine_digits(0.584149488e3));
}

TEST_CASE("Saturation pressure agrees with the sterilizer range", "[R33]") {
  // Computed from the equation with independent code (facts of the trade, section 4).
  constexpr double kRows[][2] = {{100, 101.42},   {115, 169.18}, {118, 186.40}, {121, 205.04},
                                 {121.1, 205.69}, {124, 225.17}, {126, 239.46}, {129, 262.27},
                                 {132, 286.82},   {134, 304.20}, {135, 313.20}, {137, 331.85}};
  for (const auto& [celsius, kpa] : kRows) {
    CHECK(*saturation_pressure_kpa(celsius) == Approx(kpa).epsilon(0).margin(0.00501));
  }
}

TEST_CASE("Saturation temperature is the inverse") {
  // Computed from the equation with independent code (facts of the trade, section 4).
  CHECK(*saturation_celsius(300) == Approx(133.525).epsilon(0).margin(0.0005));
  CHECK(*saturation_celsius(304) == Approx(133.978).epsilon(0).margin(0.0005));
  CHECK(*saturation_celsius(310) == Approx(134.647).epsilon(0).margin(0.0005));
  CHECK(*saturation_celsius(83.5) == Approx(94.6).epsilon(0).margin(0.05));
  for (double celsius = 1; celsius < 373; celsius += 0.5) {
    CHECK(*saturation_celsius(*saturation_pressure_kpa(celsius)) == Approx(celsius).epsilon(0).margin(2e-5));
  }
}

TEST_CASE("Nothing is said outside the saturation line") {
  for (double celsius : {-0.001, 374.0, 1e9, -1e9, kNotANumber})
    CHECK_FALSE(saturation_pressure_kpa(celsius));
  for (double kpa : {0.0, 0.6112, 22064.1, -1.0, 1e12, kNotANumber}) CHECK_FALSE(saturation_celsius(kpa));
  CHECK(saturation_pressure_kpa(kLowestSteamCelsius));
  CHECK(saturation_pressure_kpa(kHighestSteamCelsius));
}

}  // namespace
}  // namespace loadlight::core
