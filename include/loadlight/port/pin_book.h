// Port: the PINs by which operators show who they are at the station. Kept beside the record and not in it:
// what a PIN leaves behind never enters the ledger. Implemented by system.
#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "loadlight/core/dates.h"
#include "loadlight/core/result.h"

namespace loadlight::port {

enum class PinAnswer {
  Right,
  Wrong,
  Wait,    // too soon after wrong ones; nothing was compared
  Locked,  // too many wrong ones in a row; nothing was compared. A new PIN unlocks
  None,    // this operator has no PIN
};

struct PinCheck final {
  PinAnswer answer = PinAnswer::None;
  std::chrono::seconds wait{0};  // with Wait, and after Wrong: how long until the next try
};

class PinBook {
 public:
  virtual ~PinBook() = default;

  // Wrong ones in a row after which an operator is locked out.
  static constexpr int kMostWrong = 100;

  // Slow on purpose (about a tenth of a second). Fails when the book cannot be read or a wrong try cannot be
  // written down: then nobody is let in. Thread-safe, as all here.
  virtual core::Result<PinCheck> check(std::string_view operator_code, std::string_view pin,
                                       core::Instant now) = 0;
  // In place of the one before; wrong tries are forgotten.
  virtual core::Result<void> set(std::string_view operator_code, std::string_view pin) = 0;
  virtual core::Result<void> remove(std::string_view operator_code) = 0;
  virtual core::Result<bool> has(std::string_view operator_code) const = 0;
};

}  // namespace loadlight::port
