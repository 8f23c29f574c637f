// Port: draws QR symbols. Implemented by render (libqrencode).
#pragma once

#include <optional>
#include <string_view>

#include "loadlight/core/result.h"
#include "loadlight/core/symbol.h"

namespace loadlight::port {

class SymbolEncoder {
 public:
  virtual ~SymbolEncoder() = default;

  // The symbol of `text` (QR alphanumeric characters) at exactly this version and level. The encoder
  // picks the mask unless one (0 to 7) is given. Fails with SymbolDoesNotFit when `text` is too long;
  // same arguments give the same grid always. Thread-safe.
  virtual core::Result<core::SymbolGrid> encode(std::string_view text, int version,
                                                core::ErrorCorrection level,
                                                std::optional<int> mask) const = 0;
};

}  // namespace loadlight::port
