// Draws what a page holds with cairo, in points. Private to render; whoever draws holds text_lock().
#pragma once

#include <cairo.h>

#include <memory>

#include "loadlight/label/press.h"

namespace loadlight::render {

inline double points(double millimetres) {
  return millimetres / label::kMillimetresPerPoint;
}

struct DestroySurface final {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
using SurfaceHandle = std::unique_ptr<cairo_surface_t, DestroySurface>;

struct DestroyPen final {
  void operator()(cairo_t* pen) const { cairo_destroy(pen); }
};
using PenHandle = std::unique_ptr<cairo_t, DestroyPen>;

class Draughtsman final {
 public:
  explicit Draughtsman(cairo_t* pen) : pen_(pen) {}

  void operator()(const label::DrawnText& text) const;
  void operator()(const label::DrawnLine& line) const;
  void operator()(const label::DrawnFrame& frame) const;
  void operator()(const label::DrawnOutline& outline) const;
  void operator()(const label::DrawnPicture& picture) const;
  void operator()(const label::DrawnSymbol& symbol) const;

 private:
  void stroke(const label::DrawnOutline& outline) const;

  cairo_t* pen_;
};

}  // namespace loadlight::render
