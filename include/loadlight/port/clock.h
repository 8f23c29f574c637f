// Port: the one clock. Implemented by system; turned by hand in tests.
#pragma once

#include "loadlight/core/dates.h"

namespace loadlight::port {

class Clock {
 public:
  virtual ~Clock() = default;

  // Thread-safe. May step back when somebody sets the machine's clock; the record's rules notice that.
  virtual core::Instant now() const = 0;
};

}  // namespace loadlight::port
