// QR symbols as Zint draws them.
#pragma once

#include <string>

#include "loadlight/core/symbol.h"
#include "render/outside_tool.h"

namespace loadlight::tests {

// The symbol of `text` at a version and level, in the alphanumeric mode that Zint picks for such text and
// a mask that it picks too. `more` is added to its command line. The grid's form has no true mask.
core::SymbolGrid zint_symbol(const WorkFolder& folder, const std::string& text, int version,
                             core::ErrorCorrection level, const std::string& more = "");

}  // namespace loadlight::tests
