// What was read so far in one picture, each symbol once.
#pragma once

#include <vector>

#include "loadlight/port/symbol_reader.h"
#include "vision/quadrilateral.h"

namespace loadlight::vision {

// Where a view came from: enlarged by `scale` after being cut from the picture at (left, top), pixels.
struct Origin final {
  double scale = 1;
  double left = 0;
  double top = 0;
};

// Not thread-safe.
class Sightings final {
 public:
  // Adds what a pass over one view found, and says how many were new. A symbol already seen (same text at the
  // same place) is not added again; two symbols with one text side by side are two.
  std::size_t add(const std::vector<port::SymbolSighting>& found, const Origin& origin);

  const std::vector<port::SymbolSighting>& all() const { return all_; }

  // Whether a symbol that was read lies at the point, or on any part of the place.
  bool cover(port::PixelPoint point) const;
  bool cover(const Quadrilateral& place) const;

  // Top to bottom and left to right: a row takes what has its middle within half a symbol of its first.
  std::vector<port::SymbolSighting> in_reading_order() const;

 private:
  bool seen(const port::SymbolSighting& sighting) const;

  std::vector<port::SymbolSighting> all_;
};

}  // namespace loadlight::vision
