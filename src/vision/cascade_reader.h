#pragma once

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

// Reads in stages, cheapest first; a stage runs only for what the ones before it left open:
//   whole     the whole picture, just as it is
//   tiles     where a crowd was met, which one pass never reads whole
//   regions   where something looks like a symbol and did not decode: enlarged, sharpened, ...
//   renderings   of the whole picture, when nothing at all was read
class CascadeReader final : public port::SymbolReader {
 public:
  std::vector<port::SymbolSighting> read(port::GrayView picture) const override;
};

}  // namespace loadlight::vision
