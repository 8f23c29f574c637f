#pragma once

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

// Reads in stages, cheapest first; a stage runs only for what the ones before it left open:
//   whole            the whole picture, just as it is
//   places           cut out one by one, where three finders stand that belong to no symbol read so far
//   crowd            tiles, where many symbols were read and such finders are still left
//   rendered places  the same enlarged, sharpened, ... for the likeliest places left
//   renderings       of the whole picture, when nothing at all was read
class CascadeReader final : public port::SymbolReader {
 public:
  std::vector<port::SymbolSighting> read(port::GrayView picture) const override;
};

}  // namespace loadlight::vision
