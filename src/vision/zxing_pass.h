// One pass of ZXing-C++ over one view. The only file that knows that library: between its versions the
// interface changes, and the difference must fit in zxing_pass.cpp.
#pragma once

#include <vector>

#include "vision/quadrilateral.h"

namespace loadlight::vision {

// What one pass saw, in pixels of the view it was given.
struct PassFindings final {
  std::vector<port::SymbolSighting> read;
  std::vector<Quadrilateral> unread;  // looks like a symbol, did not decode: places for another try
};

// Finds no more than about 16 symbols, whatever the view holds: the library keeps that many finder triples.
// Never throws; a view it cannot work on yields nothing. Thread-safe.
PassFindings zxing_pass(port::GrayView view);

}  // namespace loadlight::vision
