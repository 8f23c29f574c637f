// A QR symbol as a picture for a page.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/core/result.h"
#include "loadlight/port/symbol_encoder.h"

namespace loadlight::web {

// SVG, with its quiet zone, dark on white. `text`: characters of QR's alphanumeric set.
core::Result<std::string> symbol_svg(const port::SymbolEncoder& encoder, std::string_view text);

}  // namespace loadlight::web
