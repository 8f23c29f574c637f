// F0: the minutes at a reference temperature that would have killed as much as a varying one did. Made for
// goods that hold water; for packages it informs and is never the reason to release.
#pragma once

namespace loadlight::core {

// Three references are in use (121, 121.1 and 121.11 C) and differ by 2.6 %: whoever shows an F0 shows its
// convention.
struct F0Convention final {
  double reference_celsius = 121.1;
  double z_kelvin = 10;

  friend bool operator==(const F0Convention&, const F0Convention&) = default;
};

// Minutes of lethality per minute at this temperature: 10^((T - reference) / z).
double lethal_rate(double celsius, const F0Convention& convention = {});

// The exact integral of the rate over `minutes` in which the temperature goes straight from one value to
// the other. (The mean of the two rates would credit ramps with too much.)
double lethality_minutes(double minutes, double from_celsius, double to_celsius,
                         const F0Convention& convention = {});

}  // namespace loadlight::core
