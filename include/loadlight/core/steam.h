// Saturated water steam: which pressure belongs to which temperature (IAPWS-IF97, region 4: equations 30
// and 31 of R7-97(2012)).
#pragma once

#include <optional>

namespace loadlight::core {

// The saturation line's ends, both included: 0 C, and the critical point (647.096 K).
inline constexpr double kLowestSteamCelsius = 0;
inline constexpr double kHighestSteamCelsius = 373.946;

// Absolute pressure; none outside 0 to 373.946 C, and for what is not a number.
std::optional<double> saturation_pressure_kpa(double celsius);

// None outside 0.611213 to 22064.0 kPa absolute, and for what is not a number.
std::optional<double> saturation_celsius(double kpa_abs);

}  // namespace loadlight::core
