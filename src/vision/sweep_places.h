// Where symbols may lie in one frame of a sweep, and the cheap ways to read them there.
#pragma once

#include <functional>
#include <opencv2/core.hpp>
#include <vector>

#include "loadlight/port/symbol_reader.h"
#include "vision/finder_spots.h"
#include "vision/quadrilateral.h"
#include "vision/smear.h"
#include "vision/tiles.h"

namespace loadlight::vision {

// Corners in pixels of the frame.
using Found = std::vector<port::SymbolSighting>;

// The place cut out as it is; rendered sharper and twice as large, which reads nearly all that smears over
// less than three modules; or the second where the first reads nothing. Thread-safe, as all here. Throw what
// OpenCV throws.
Found read_plainly(port::GrayView frame, const Quadrilateral& place);
Found read_sharpened(port::GrayView frame, const Quadrilateral& place);
Found read_either(port::GrayView frame, const Quadrilateral& place);

// place_texture.h's changes_across() in a picture of which motion took half of them.
double changes_when_sharpened(port::GrayView view, const Quadrilateral& place);

// Pixels, if the symbol is one of our own labels.
double usual_module(const Quadrilateral& corners);

// Those that lie on none before them; the likeliest come first.
std::vector<Quadrilateral> apart_from_each_other(const std::vector<Quadrilateral>& places);

// Whether the place is nearly one of them.
bool is_among(const std::vector<Quadrilateral>& places, const Quadrilateral& place);

// A search over one frame. It is made in the frame sharpened: of labels that smear over two modules that
// shows nineteen of twenty, the frame itself two of three.
class SweepPlaces final {
 public:
  explicit SweepPlaces(port::GrayView frame);
  // The same over a part of the frame that is smeared.
  SweepPlaces(port::GrayView frame, const Tile& part, const Smear& smear);

  // Of the finders that are open, the likeliest first; only where there is as much print as in a symbol.
  std::vector<Quadrilateral> places(const std::function<bool(port::PixelPoint)>& is_open) const;

  // Where two of the finders that are open may be of one symbol, the likeliest first.
  std::vector<Quadrilateral> pairs(const std::function<bool(port::PixelPoint)>& is_open) const;

  // Finders count their modules in whole pixels, so the nearest size that a symbol can have is taken.
  double module_of(const Quadrilateral& corners) const;

 private:
  std::vector<FinderSpot> open_spots(const std::function<bool(port::PixelPoint)>& is_open) const;
  std::vector<Quadrilateral> in_frame(std::vector<Quadrilateral> places) const;

  cv::Mat sharpened_;
  Tile part_;                      // of the frame
  std::vector<FinderSpot> spots_;  // in pixels of the part, as what follows from them until it is handed out
};

}  // namespace loadlight::vision
