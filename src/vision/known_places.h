// What is asked of a symbol whose place in the picture is known.
#pragma once

#include <optional>
#include <span>

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

// port::SymbolReader::match and ::measure. Throw what OpenCV throws. Thread-safe.
std::optional<port::SymbolMatch> match_place(port::GrayView picture, const port::Corners& place,
                                             std::span<const core::SymbolGrid> candidates);
std::optional<core::PrintMeasures> measure_symbol(port::GrayView picture, const port::SymbolSighting& symbol);

}  // namespace loadlight::vision
