// Port: the office's time zone, the only way from an Instant to a day. Implemented by system.
#pragma once

#include <string>

#include "loadlight/core/dates.h"

namespace loadlight::port {

class Zone {
 public:
  virtual ~Zone() = default;

  // The local day of `t`. Years before 1900 and after 9999 give the first and last day of that range.
  // Thread-safe, never fails.
  virtual core::CivilDate local_date(core::Instant t) const = 0;
  // "2026-11-25 14:03", local; seconds are cut.
  virtual std::string local_text(core::Instant t) const = 0;
  // The IANA name it was opened by, for example "Europe/Berlin".
  virtual std::string name() const = 0;
};

}  // namespace loadlight::port
