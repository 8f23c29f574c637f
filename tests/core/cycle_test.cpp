#include "loadlight/core/cycle.h"

#include <catch2/catch.hpp>

#include <limits>
#include <random>

namespace loadlight::core {
namespace {

constexpr double kNotANumber = std::numeric_limits<double>::quiet_NaN();
constexpr double kEndless = std::numeric_limits<double>::infinity();

CycleSettings settings_at(double programmed, double nominal = 1) {
  CycleSettings settings;
  settings.programmed_celsius = programmed;
  settings.nominal_seconds = nominal;
  return settings;
}

CycleFindings read(const CycleSettings& settings, const std::vector<CycleSample>& samples) {
  CycleReader reader{settings};
  for (const CycleSample& sample : samples) REQUIRE(reader.add(sample));
  return reader.findings();
}

TEST_CASE("Only time between two samples at or above the threshold is credited", "[R35]") {
  // 134 C with the sensor margin of 0.5 K (van Doornmalen et al., abstract, 1/2020).
  const auto found = read(settings_at(134), {{0, 134.4, {}}, {1, 134.5, {}}, {2, 136, {}}, {3, 134.49, {}}});
  REQUIRE(found.exposure);
  CHECK(found.exposure->start_seconds == 1);
  CHECK(found.exposure->end_seconds == 2);
  CHECK(found.exposure->samples == 2);
  CHECK(found.exposure->low_celsius == 134.5);
  CHECK(found.exposure->largest_step_kelvin == 1.5);
}

TEST_CASE("A step of twice the interval is no gap and any longer one is", "[R34][R35]") {
  CHECK(read(settings_at(121, 5), {{0, 122, {}}, {10, 122, {}}}).exposure->minutes() == 10.0 / 60);
  const auto found = read(settings_at(121, 5), {{0, 122, {}}, {10.001, 122, {}}, {15, 122, {}}});
  CHECK(found.exposure->start_seconds == 10.001);
  CHECK(found.gap_count == 1);
  CHECK(found.interruptions == 1);
  CHECK(found.f0_minutes == found.exposure->f0_minutes);  // nothing is credited across
}

TEST_CASE("The longest stretch is the exposure and of equal ones the first") {
  const auto found = read(
      settings_at(121),
      {{0, 122, {}}, {1, 122, {}}, {2, 100, {}}, {3, 123, {}}, {4, 123, {}}, {5, 100, {}}, {6, 124, {}}});
  CHECK(found.exposure->start_seconds == 0);
  CHECK(found.exposure->end_seconds == 1);
  CHECK(found.exposure->high_celsius == 122);
  CHECK(found.interruptions == 2);
  REQUIRE(found.phases.size() == 1);  // the plateau takes them all in
  CHECK(found.phases[0].end_seconds == 6);
}

TEST_CASE("A log that never reaches the threshold has no exposure") {
  const auto found = read(settings_at(134), {{0, 20, 101.0}, {1, 118, 186.4}, {2, 90, 101.0}});
  CHECK_FALSE(found.exposure);
  CHECK_FALSE(found.drying_minutes);
  CHECK_FALSE(found.exhausted);
  CHECK(found.high_celsius == 118);
  REQUIRE(found.phases.size() == 1);
  CHECK(found.phases[0].phase == CyclePhase::Heating);
}

TEST_CASE("What cannot be measured is refused and changes nothing") {
  CycleReader reader{settings_at(134)};
  REQUIRE(reader.add({5, 100, 101.0}));
  for (const CycleSample& bad : std::vector<CycleSample>{{kNotANumber, 100, {}},
                                                         {kEndless, 100, {}},
                                                         {6, kNotANumber, {}},
                                                         {6, kEndless, {}},
                                                         {6, -300, {}},
                                                         {6, 2000, {}},
                                                         {6, 100, kNotANumber},
                                                         {6, 100, kEndless},
                                                         {6, 100, 0.0},
                                                         {6, 100, -1.0},
                                                         {5, 100, 101.0},
                                                         {4, 100, 101.0}}) {
    CHECK_FALSE(reader.add(bad));
  }
  CHECK(reader.findings().samples == 1);
  CHECK(reader.add({6, 100, 101.0}));
}

TEST_CASE("An interval that is not a number makes every step a gap") {
  for (double nominal : {kNotANumber, 0.0, -1.0}) {
    const auto found = read(settings_at(121, nominal), {{0, 122, {}}, {1, 122, {}}, {2, 122, {}}});
    CHECK(found.gap_count == 2);
    CHECK(found.exposure->minutes() == 0);
    CHECK(found.f0_minutes == 0);
  }
}

TEST_CASE("Falls of the pressure before the exposure are counted with their extremes") {
  std::vector<CycleSample> samples;
  const auto add = [&samples](double celsius, double kpa) {
    samples.push_back({static_cast<double>(samples.size()), celsius, kpa});
  };
  for (double kpa :
       {101.0, 60.0, 20.0, 25.0, 90.0, 140.0, 130.0, 15.0, 30.0, 25.0, 150.0, 140.0, 145.0, 250.0}) {
    add(90, kpa);
  }
  add(135, 313);
  add(135, 313);
  for (double kpa : {200.0, 100.0, 10.0, 101.0}) add(90, kpa);  // no air removal: after the exposure
  const auto found = read(settings_at(134), samples);
  REQUIRE(found.pulse_count == 2);
  CHECK(found.pulses[0].from_kpa == 101);
  CHECK(found.pulses[0].to_kpa == 20);
  CHECK(found.pulses[0].seconds == 2);
  CHECK(found.pulses[1].from_kpa == 140);
  CHECK(found.pulses[1].to_kpa == 15);
  REQUIRE(found.phases.size() == 5);
  CHECK(found.phases[0].phase == CyclePhase::AirRemoval);
  CHECK(found.phases[0].end_seconds == 7);
  CHECK(found.phases[1].end_seconds == 14);
}

TEST_CASE("A fall and a rise of just enough make a pulse, and of less make none") {
  for (double least : {kPulseKpa, kPulseKpa - 0.1}) {
    const auto found = read(settings_at(134), {{0, 90, 100.0},
                                               {1, 90, 100 - least},
                                               {2, 90, 100.0},
                                               {3, 90, 100 - least},
                                               {4, 90, 99.9},
                                               {5, 135, 313.0}});
    CHECK(found.pulse_count == (least == kPulseKpa ? 2 : 0));
  }
}

TEST_CASE("Drying counts from where the chamber holds no pressure and steam again begins it anew", "[R31]") {
  std::vector<CycleSample> samples{{0, 122, 212.0}, {1, 110, 150.0}, {2, 100, 111.3}, {3, 95, 50.0},
                                   {4, 95, {}},     {5, 95, 50.0},   {6, 95, 50.0}};
  auto found = read(settings_at(121), samples);
  CHECK(*found.exhausted);
  CHECK(*found.drying_minutes == Approx(2.0 / 60));  // 2 to 3 and 5 to 6
  samples.push_back({7, 105, 121.0});
  found = read(settings_at(121), samples);
  CHECK_FALSE(*found.exhausted);
  CHECK(*found.drying_minutes == 0);
  for (CycleSample& sample : samples) sample.kpa_abs.reset();
  CHECK_FALSE(read(settings_at(121), samples).drying_minutes);
}

TEST_CASE("A curve of any length keeps its extremes in order within its limit") {
  std::mt19937 random{7};
  for (int count : {0, 1, 2, 297, 298, 299, 5000, 200'000}) {
    CycleReader reader{settings_at(134)};
    for (int i = 0; i < count; ++i) {
      const double noise = static_cast<double>(random() % 1000) / 1000;
      const bool spike = i == count / 3;
      REQUIRE(reader.add({1.0 * i, spike ? 150 : 120 + noise, spike ? 5 : 200 + noise}));
    }
    const auto found = reader.findings();
    CHECK(found.curve.size() <= kMostCurvePoints);
    if (count == 0) continue;
    CHECK(found.curve.front().seconds == 0);
    CHECK(found.curve.back().seconds == count - 1);
    CHECK(std::any_of(found.curve.begin(), found.curve.end(),
                      [](const CurvePoint& p) { return p.celsius == 150; }));
    CHECK(std::is_sorted(found.curve.begin(), found.curve.end(),
                         [](const CurvePoint& a, const CurvePoint& b) { return a.seconds < b.seconds; }));
    if (count > 1000) CHECK(found.curve.size() > 300);
  }
}

}  // namespace
}  // namespace loadlight::core
