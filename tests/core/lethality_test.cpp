#include <catch2/catch.hpp>

#include "loadlight/core/cycle.h"
#include "loadlight/core/lethality.h"

namespace loadlight::core {
namespace {

// Minute, degrees Celsius: the profile of the facts of the trade, section 3.3.
constexpr double kProfile[][2] = {{0, 100}, {1, 110}, {2, 118},   {3, 121.1}, {4, 134}, {5, 134},
                                  {6, 134}, {7, 134}, {8, 121.1}, {9, 110},   {10, 100}};

TEST_CASE("Rates agree with the table of three conventions") {
  // Computed with independent code (facts of the trade, section 3.1).
  struct Row {
    double celsius, at_121_1, at_121_11, at_121;
  };
  constexpr Row kRows[] = {{100, 0.0078, 0.0077, 0.0079},    {111, 0.0977, 0.0975, 0.1000},
                           {121, 0.9772, 0.9750, 1.0000},    {126, 3.0903, 3.0832, 3.1623},
                           {134, 19.4984, 19.4536, 19.9526}, {137, 38.9045, 38.8150, 39.8107}};
  for (const Row& row : kRows) {
    CHECK(lethal_rate(row.celsius) == Approx(row.at_121_1).epsilon(0).margin(0.00005001));
    CHECK(lethal_rate(row.celsius, {121.11, 10}) == Approx(row.at_121_11).epsilon(0).margin(0.00005001));
    CHECK(lethal_rate(row.celsius, {121, 10}) == Approx(row.at_121).epsilon(0).margin(0.00005001));
  }
}

TEST_CASE("Holds agree with the table", "[R34]") {
  // Computed with independent code (facts of the trade, section 3.2).
  constexpr double kHolds[][3] = {{121, 15, 14.659},  {121, 30, 29.317}, {118, 15, 7.347},   {111, 15, 1.466},
                                  {124, 15, 29.248},  {126, 10, 30.903}, {137, 3, 116.714},  {132, 4, 49.211},
                                  {132, 15, 184.540}, {134, 3, 58.495},  {134, 3.5, 68.245}, {135, 3, 73.641},
                                  {134, 18, 350.972}};
  for (const auto& [celsius, minutes, f0] : kHolds) {
    CHECK(lethality_minutes(minutes, celsius, celsius) == Approx(f0).epsilon(0).margin(0.000501));
  }
}

TEST_CASE("Fifteen minutes at 111 are one and a half at 121") {
  // F0 technical note, 1998 text: reference 121 C.
  CHECK(lethality_minutes(15, 111, 111, {121, 10}) == Approx(1.5));
}

TEST_CASE("Ramps are integrated exactly and not by the mean of rates", "[R34]") {
  double exact = 0;
  double mean_of_rates = 0;
  for (std::size_t i = 1; i < std::size(kProfile); ++i) {
    exact += lethality_minutes(1, kProfile[i - 1][1], kProfile[i][1]);
    mean_of_rates += (lethal_rate(kProfile[i - 1][1]) + lethal_rate(kProfile[i][1])) / 2;
  }
  // Computed with independent code (facts of the trade, section 3.3).
  CHECK(exact == Approx(72.3109).epsilon(0).margin(0.00005001));
  CHECK(mean_of_rates == Approx(80.6466).epsilon(0).margin(0.00005001));
}

TEST_CASE("A log's F0 is that of its segments", "[R34]") {
  CycleReader reader{{134, 0.5, 60, kStandardBarometricKpa, {}}};
  for (const auto& [minute, celsius] : kProfile) REQUIRE(reader.add({minute * 60, celsius, {}}));
  CHECK(reader.findings().f0_minutes == Approx(72.3109).epsilon(0).margin(0.00005001));
}

TEST_CASE("Nearly level segments join level ones") {
  for (double span = 1e-12; span < 1; span *= 3) {
    CHECK(lethality_minutes(1, 134 - span / 2, 134 + span / 2) ==
          Approx(lethal_rate(134)).epsilon(span * span / 100 + 1e-12));
  }
}

}  // namespace
}  // namespace loadlight::core
