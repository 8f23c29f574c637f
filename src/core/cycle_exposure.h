// The watch for the longest unbroken time at or above the threshold.
#pragma once

#include <optional>

#include "loadlight/core/cycle.h"

namespace loadlight::core {

// One stretch, and how many pulses had been seen when it began.
struct HotRun final {
  Exposure exposure;
  std::size_t pulses_before = 0;
};

class ExposureWatch final {
 public:
  explicit ExposureWatch(const CycleSettings& settings) : settings_(settings) {}

  // `before` is the sample before, null when there is none or a gap lies between.
  void add(const CycleSample& sample, const CycleSample* before, const HotRun& beginning);

  std::optional<HotRun> longest() const;
  bool is_hot(const CycleSample& sample) const;
  std::size_t interruptions() const { return runs_ > 0 ? runs_ - 1 : 0; }

 private:
  void begin(const CycleSample& sample, const HotRun& beginning);
  void extend(const CycleSample& sample, const CycleSample& before);
  void end();

  CycleSettings settings_;
  std::optional<HotRun> current_;
  std::optional<HotRun> best_;
  std::size_t runs_ = 0;
};

}  // namespace loadlight::core
