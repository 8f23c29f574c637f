#include "core/cycle_exposure.h"

#include <algorithm>
#include <cmath>

#include "loadlight/core/steam.h"

namespace loadlight::core {
namespace {

// Forgiven to the conversion from degrees Fahrenheit.
constexpr double kRoundingKelvin = 1e-9;

void raise(std::optional<double>& most, double value) {
  most = std::max(most.value_or(value), value);
}
void lower(std::optional<double>& least, double value) {
  least = std::min(least.value_or(value), value);
}

void add_pressure(Exposure& exposure, const CycleSample& sample) {
  const auto saturated = sample.kpa_abs ? saturation_celsius(*sample.kpa_abs) : std::nullopt;
  if (!saturated) {
    ++exposure.without_pressure;
    return;
  }
  lower(exposure.low_kpa, *sample.kpa_abs);
  raise(exposure.high_kpa, *sample.kpa_abs);
  raise(exposure.superheat_kelvin, std::max(0.0, sample.celsius - *saturated));
  raise(exposure.deficit_kelvin, std::max(0.0, *saturated - sample.celsius));
}

}  // namespace

bool ExposureWatch::is_hot(const CycleSample& sample) const {
  return sample.celsius >= settings_.threshold_celsius() - kRoundingKelvin;
}

void ExposureWatch::add(const CycleSample& sample, const CycleSample* before, const HotRun& beginning) {
  if (!is_hot(sample)) return end();
  if (current_ && before) return extend(sample, *before);
  end();
  begin(sample, beginning);
}

void ExposureWatch::begin(const CycleSample& sample, const HotRun& beginning) {
  ++runs_;
  current_ = beginning;
  Exposure& exposure = current_->exposure;
  exposure = {};
  exposure.start_seconds = exposure.end_seconds = sample.seconds;
  exposure.low_celsius = exposure.high_celsius = sample.celsius;
  exposure.samples = 1;
  add_pressure(exposure, sample);
}

void ExposureWatch::extend(const CycleSample& sample, const CycleSample& before) {
  Exposure& exposure = current_->exposure;
  exposure.f0_minutes +=
      lethality_minutes((sample.seconds - before.seconds) / 60, before.celsius, sample.celsius, settings_.f0);
  exposure.end_seconds = sample.seconds;
  ++exposure.samples;
  exposure.low_celsius = std::min(exposure.low_celsius, sample.celsius);
  exposure.high_celsius = std::max(exposure.high_celsius, sample.celsius);
  exposure.largest_step_kelvin =
      std::max(exposure.largest_step_kelvin, std::fabs(sample.celsius - before.celsius));
  add_pressure(exposure, sample);
}

void ExposureWatch::end() {
  if (!current_) return;
  best_ = longest();
  current_.reset();
}

std::optional<HotRun> ExposureWatch::longest() const {
  if (!current_) return best_;
  if (!best_) return current_;
  return current_->exposure.minutes() > best_->exposure.minutes() ? current_ : best_;
}

}  // namespace loadlight::core
