// What was seen so far in one picture: each symbol once, and the places that look like one but did not
// decode.
#pragma once

#include <vector>

#include "vision/zxing_pass.h"

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
  // Adds what a pass found. A symbol already seen (same text at the same place) is not added again; two
  // symbols with one text side by side are two.
  void add(const PassFindings& findings, const Origin& origin);

  const std::vector<port::SymbolSighting>& read() const { return read_; }

  // Places that nothing was read at, each once.
  std::vector<Quadrilateral> unread() const;

  // The symbols top to bottom and left to right: a row takes what begins within half a symbol of its first.
  std::vector<port::SymbolSighting> in_reading_order() const;

 private:
  bool seen(const port::SymbolSighting& sighting) const;
  bool read_at(const Quadrilateral& place) const;

  std::vector<port::SymbolSighting> read_;
  std::vector<Quadrilateral> unread_;
};

}  // namespace loadlight::vision
