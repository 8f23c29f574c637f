// What a whole log shows that no line of it can: a wrong unit, a wrong reference, no log at all.
#pragma once

#include <optional>

#include "loadlight/core/cycle.h"
#include "loadlight/exchange/log_mapping.h"
#include "log_errors.h"

namespace loadlight::exchange {

class LogDoubts final {
 public:
  void add(const core::CycleSample& sample);
  void tell(const LogMapping& mapping, LogErrors& errors) const;

 private:
  void tell_interval(const LogMapping& mapping, LogErrors& errors) const;
  void tell_temperature(const LogMapping& mapping, LogErrors& errors) const;
  void tell_pressure(const LogMapping& mapping, LogErrors& errors) const;

  std::size_t samples_ = 0;
  double first_seconds_ = 0;
  double last_seconds_ = 0;
  double peak_celsius_ = 0;
  std::optional<double> peak_kpa_;
};

}  // namespace loadlight::exchange
