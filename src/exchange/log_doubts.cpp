#include "log_doubts.h"

#include <algorithm>
#include <charconv>

#include "loadlight/exchange/cycle_log.h"

namespace loadlight::exchange {
namespace {

// No steam sterilizer's cycle peaks outside these; 134 F are 56.7 C, and 134 C read as F are those.
constexpr double kCoolestPeakCelsius = 70;
constexpr double kHottestPeakCelsius = 160;
// Above this temperature steam stands well over any ambient pressure; a log that never does so gives gauge
// pressures for absolute ones, or bar or psi for kPa. Over the other no sterilizer's chamber goes.
constexpr double kSurelySteamCelsius = 110;
constexpr double kHighestAmbientKpa = 110;
constexpr double kHighestChamberKpa = 1000;
// A printer that prints a line a minute may be late.
constexpr double kJitter = 1.05;

std::string one_decimal(double value) {
  char text[64];
  const auto end = std::to_chars(text, text + sizeof text, value, std::chars_format::fixed, 1);
  return end.ec == std::errc{} ? std::string(text, end.ptr) : std::string{"?"};
}

double from_celsius(double celsius, TemperatureUnit unit) {
  return unit == TemperatureUnit::Fahrenheit ? celsius * 1.8 + 32 : celsius;
}

}  // namespace

void LogDoubts::add(const core::CycleSample& sample) {
  if (samples_++ == 0) {
    first_seconds_ = sample.seconds;
    peak_celsius_ = sample.celsius;
  } else {
    add_step(sample.seconds - last_seconds_);
  }
  last_seconds_ = sample.seconds;
  peak_celsius_ = std::max(peak_celsius_, sample.celsius);
  if (sample.kpa_abs) peak_kpa_ = std::max(peak_kpa_.value_or(0), *sample.kpa_abs);
}

void LogDoubts::add_step(double seconds) {
  over_longest_ += seconds > kLongestLogInterval * kJitter ? 1 : 0;
  over_double_ += seconds > 2 * mapping_.nominal_seconds ? 1 : 0;
  under_half_ += seconds < mapping_.nominal_seconds / 2 ? 1 : 0;
}

void LogDoubts::tell(LogErrors& errors) const {
  if (samples_ == 0) return errors.add("cycle-log.empty", 0);
  tell_interval(errors);
  tell_temperature(errors);
  tell_pressure(errors);
}

void LogDoubts::tell_interval(LogErrors& errors) const {
  const double steps = static_cast<double>(std::max<std::size_t>(samples_, 2) - 1);
  const core::Details found{{"rows", std::to_string(samples_)},
                            {"found", one_decimal((last_seconds_ - first_seconds_) / steps)},
                            {"interval", one_decimal(mapping_.nominal_seconds)}};
  if (samples_ < kFewestLogRows || are_most(over_longest_)) {
    errors.add("cycle-log.phase-ends", 0, found);
  } else if (are_most(over_double_) || are_most(under_half_)) {
    errors.add("cycle-log.interval-doubtful", 0, found);  // gaps are told by it
  }
}

void LogDoubts::tell_temperature(LogErrors& errors) const {
  if (peak_celsius_ >= kCoolestPeakCelsius && peak_celsius_ <= kHottestPeakCelsius) return;
  const bool fahrenheit = mapping_.temperature_unit == TemperatureUnit::Fahrenheit;
  errors.add("cycle-log.unit-doubtful", 0,
             {{"peak", one_decimal(from_celsius(peak_celsius_, mapping_.temperature_unit))},
              {"unit", fahrenheit ? "°F" : "°C"},
              {"highest", one_decimal(peak_celsius_)}});
}

void LogDoubts::tell_pressure(LogErrors& errors) const {
  if (!peak_kpa_) return;
  const bool never_over_ambient = peak_celsius_ >= kSurelySteamCelsius && *peak_kpa_ < kHighestAmbientKpa;
  if (!never_over_ambient && *peak_kpa_ <= kHighestChamberKpa) return;
  errors.add("cycle-log.pressure-doubtful", 0,
             {{"kpa", one_decimal(*peak_kpa_)},
              {"celsius", one_decimal(peak_celsius_)},
              {"unit", std::string{core::to_text(mapping_.pressure_unit)}},
              {"reference", std::string{core::to_text(mapping_.pressure_reference)}}});
}

}  // namespace loadlight::exchange
