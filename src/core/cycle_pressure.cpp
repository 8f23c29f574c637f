#include "core/cycle_pressure.h"

namespace loadlight::core {

void PulseWatch::add(double seconds, double kpa) {
  if (!falling_) {
    if (!top_kpa_ || kpa > *top_kpa_) top_kpa_ = kpa;
    if (kpa > *top_kpa_ - kPulseKpa) return;
    falling_ = true;
    lowest_ = {seconds, *top_kpa_, kpa};
  }
  if (kpa < lowest_.to_kpa) lowest_ = {seconds, *top_kpa_, kpa};
  if (kpa < lowest_.to_kpa + kPulseKpa) return;
  confirm();
  falling_ = false;
  top_kpa_ = kpa;
}

void PulseWatch::confirm() {
  ++count_;
  last_seconds_ = lowest_.seconds;
  if (pulses_.size() < kMostPulsesKept) pulses_.push_back(lowest_);
}

void DryingWatch::add(const CycleSample& sample, double step_seconds) {
  if (!sample.kpa_abs) {
    before_vouched_ = false;
    return;
  }
  told_ = true;
  const bool vouched = *sample.kpa_abs <= ceiling_kpa_;
  if (!vouched) {
    start_.reset();
    credited_ = 0;
  } else {
    if (!start_) start_ = sample.seconds;
    if (before_vouched_) credited_ += step_seconds;
  }
  before_vouched_ = vouched;
}

}  // namespace loadlight::core
