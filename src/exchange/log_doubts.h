// What a whole log shows that no line of it can: a wrong unit, a wrong reference, no log at all.
#pragma once

#include <optional>

#include "loadlight/core/cycle.h"
#include "loadlight/exchange/log_mapping.h"
#include "log_errors.h"

namespace loadlight::exchange {

class LogDoubts final {
 public:
  explicit LogDoubts(const LogMapping& mapping) : mapping_(mapping) {}

  void add(const core::CycleSample& sample);
  void tell(LogErrors& errors) const;

 private:
  void add_step(double seconds);
  bool are_most(std::size_t steps) const { return 2 * steps > samples_ - 1; }
  void tell_interval(LogErrors& errors) const;
  void tell_temperature(LogErrors& errors) const;
  void tell_pressure(LogErrors& errors) const;

  LogMapping mapping_;
  std::size_t samples_ = 0;
  // Steps from one sample to the next, by their length against the nominal interval.
  std::size_t over_longest_ = 0;
  std::size_t over_double_ = 0;
  std::size_t under_half_ = 0;
  double first_seconds_ = 0;
  double last_seconds_ = 0;
  double peak_celsius_ = 0;
  std::optional<double> peak_kpa_;
};

}  // namespace loadlight::exchange
