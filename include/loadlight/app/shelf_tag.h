// A place as people and scanners name it: its code, or the whole text of its shelf tag.
#pragma once

#include <string_view>

#include "loadlight/app/ports.h"

namespace loadlight::app {

// CodeUnknown, CodeRetired (details: table, code); ShelfTagNotAuthentic for a tag that no key of the office made.
core::Result<core::Location> location_of(const Ports& ports, const port::Unit& unit, std::string_view reference);

}  // namespace loadlight::app
