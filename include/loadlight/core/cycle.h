// What a sterilizer's cycle log shows: phases, exposure, steam, gaps. Samples go in one by one, in order;
// memory does not grow with their number.
//
// A sample speaks for its own moment. Time between two samples counts as exposure only if both are at or
// above the threshold and lie no further apart than twice the nominal interval: where the temperature
// crossed the threshold between two samples nobody measured, so that stretch is not credited.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "loadlight/core/lethality.h"

namespace loadlight::core {

struct CycleSample final {
  double seconds = 0;  // since the log's first moment
  double celsius = 0;
  std::optional<double> kpa_abs;  // none: not recorded

  friend bool operator==(const CycleSample&, const CycleSample&) = default;
};

// What measured values may be off: 134 C is held when 134.5 C or more is measured (van Doornmalen et al.,
// abstract, 1/2020).
inline constexpr double kSensorMarginKelvin = 0.5;
inline constexpr double kStandardBarometricKpa = 101.325;

struct CycleSettings final {
  double programmed_celsius = 0;
  double margin_kelvin = kSensorMarginKelvin;
  double nominal_seconds = 1;                      // between two samples; over twice that is a gap
  double barometric_kpa = kStandardBarometricKpa;  // around the sterilizer: where exhaust ends
  F0Convention f0;

  double threshold_celsius() const { return programmed_celsius + margin_kelvin; }
};

// Plateau: from the first sample at or above the threshold to the last, whatever interrupts it.
enum class CyclePhase { AirRemoval, Heating, Plateau, Exhaust, Drying };

struct PhaseSpan final {
  CyclePhase phase = CyclePhase::Heating;
  double start_seconds = 0;
  double end_seconds = 0;
};

// One fall of the pressure before the exposure, by at least kPulseKpa and followed by such a rise.
struct Pulse final {
  double seconds = 0;   // of its lowest point
  double from_kpa = 0;  // the top it fell from
  double to_kpa = 0;    // the lowest
};
inline constexpr double kPulseKpa = 20;
inline constexpr std::size_t kMostPulsesKept = 32;

struct Gap final {
  double start_seconds = 0;
  double end_seconds = 0;
};
inline constexpr std::size_t kMostGapsKept = 32;

// The longest unbroken time at or above the threshold; of two equally long ones the earlier.
struct Exposure final {
  double start_seconds = 0;
  double end_seconds = 0;
  std::size_t samples = 0;
  double low_celsius = 0;
  double high_celsius = 0;
  double largest_step_kelvin = 0;  // between two neighbours
  std::optional<double> low_kpa;
  std::optional<double> high_kpa;
  // By how much the steam was hotter, or cooler, than saturated steam at its pressure, at the worst; 0 if
  // never, none if no pressure could be compared.
  std::optional<double> superheat_kelvin;
  std::optional<double> deficit_kelvin;
  std::size_t without_pressure = 0;  // samples whose pressure is absent or no steam's
  double f0_minutes = 0;

  double minutes() const { return (end_seconds - start_seconds) / 60; }
  double fluctuation_kelvin() const { return (high_celsius - low_celsius) / 2; }  // "plus or minus"
};

struct CurvePoint final {
  double seconds = 0;
  double celsius = 0;
  std::optional<double> kpa_abs;
};
inline constexpr std::size_t kMostCurvePoints = 1200;

struct CycleFindings final {
  CycleSettings settings;  // what the log was read with
  std::size_t samples = 0;
  std::size_t without_pressure = 0;
  double start_seconds = 0;
  double end_seconds = 0;
  double low_celsius = 0;  // of the whole log
  double high_celsius = 0;
  std::optional<Exposure> exposure;  // none: the threshold was never reached
  std::size_t interruptions = 0;     // how often it was broken, by the temperature or a gap, and resumed
  std::vector<PhaseSpan> phases;     // in order; without an exposure none follows heating
  std::size_t pulse_count = 0;
  std::vector<Pulse> pulses;      // the first of them
  std::optional<bool> exhausted;  // the chamber came back to ambient pressure after the exposure; none:
                                  // no pressure says so
  std::optional<double> drying_minutes;  // none: no exposure, or no pressure after it. Gaps do not count
  std::size_t gap_count = 0;
  std::vector<Gap> gaps;            // the first of them
  double longest_step_seconds = 0;  // between two neighbours
  double f0_minutes = 0;            // of the whole log, gaps left out
  std::vector<CurvePoint> curve;    // for drawing; every bucket's extremes are kept
};

class CycleReader final {
 public:
  explicit CycleReader(const CycleSettings& settings);
  CycleReader(CycleReader&&) noexcept;
  CycleReader& operator=(CycleReader&&) noexcept;
  ~CycleReader();

  // False, and nothing is taken in, if a value is not a finite number, the temperature or pressure cannot
  // be, or the time is not after the sample before.
  [[nodiscard]] bool add(const CycleSample& sample);

  CycleFindings findings() const;  // of the samples so far

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace loadlight::core
