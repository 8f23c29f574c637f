// One pass of ZXing-C++ over one view. The only file that knows that library: between its versions the
// interface changes, and the difference must fit in zxing_pass.cpp.
#pragma once

#include <vector>

#include "loadlight/port/symbol_reader.h"
#include "vision/quadrilateral.h"

namespace loadlight::vision {

// The symbols of one view, corners in pixels of it. Finds no more than about 16, whatever the view holds: the
// library keeps that many finder triples. Never throws; a view it cannot work on yields nothing. Thread-safe.
std::vector<port::SymbolSighting> zxing_pass(port::GrayView view);

}  // namespace loadlight::vision
