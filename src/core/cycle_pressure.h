// What the pressure tells of a cycle's phases: pulses of the air removal, and the drying at its end.
#pragma once

#include <optional>
#include <vector>

#include "loadlight/core/cycle.h"

namespace loadlight::core {

// Counts falls of the pressure by at least kPulseKpa that are followed by as large a rise.
class PulseWatch final {
 public:
  void add(double seconds, double kpa);

  std::size_t count() const { return count_; }
  const std::vector<Pulse>& first_ones() const { return pulses_; }
  std::optional<double> last_seconds() const { return last_seconds_; }

 private:
  void confirm();

  bool falling_ = false;
  std::optional<double> top_kpa_;
  Pulse lowest_;
  std::size_t count_ = 0;
  std::optional<double> last_seconds_;
  std::vector<Pulse> pulses_;
};

// Time since the chamber last held pressure. What pressure does not vouch for is not credited; steam let in
// again begins it anew.
class DryingWatch final {
 public:
  explicit DryingWatch(double barometric_kpa) : ceiling_kpa_(barometric_kpa + kAboveAmbientKpa) {}

  void restart() { *this = DryingWatch{ceiling_kpa_ - kAboveAmbientKpa}; }  // an exposure goes on
  // `step_seconds` since the sample before; 0 when a gap lies between.
  void add(const CycleSample& sample, double step_seconds);

  bool was_told() const { return told_; }
  std::optional<double> start_seconds() const { return start_; }
  double credited_seconds() const { return credited_; }

 private:
  // Exhaust counts as ended this near to the surrounding pressure (a choice of ours).
  static constexpr double kAboveAmbientKpa = 10;

  double ceiling_kpa_;
  bool told_ = false;            // a pressure was recorded since
  bool before_vouched_ = false;  // the sample before was at or under the ceiling
  std::optional<double> start_;
  double credited_ = 0;
};

}  // namespace loadlight::core
