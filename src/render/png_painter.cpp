// A page as a PNG by cairo.
#include <algorithm>
#include <cmath>
#include <exception>

#include "loadlight/render/render.h"
#include "render/draughtsman.h"
#include "render/pango_text.h"

namespace loadlight::render {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  try {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
  } catch (const std::exception&) {
    return CAIRO_STATUS_WRITE_ERROR;
  }
}

bool is_paintable(const label::Page& page, int longest) {
  const bool has_size = page.width > 0 && page.height > 0 && std::isfinite(page.width + page.height);
  return has_size && longest >= 1 && longest <= label::Painter::kMostPixels;
}

int pixels(double millimetres, double scale) {
  return std::max(1, static_cast<int>(std::ceil(points(millimetres) * scale - 1e-6)));
}

void draw(cairo_t* pen, const label::Page& page, double scale) {
  cairo_set_source_rgb(pen, 1, 1, 1);
  cairo_paint(pen);
  cairo_set_source_rgb(pen, 0, 0, 0);
  cairo_scale(pen, scale, scale);
  const Draughtsman draughtsman{pen};
  for (const label::Drawn& item : page.items) {
    // A photograph's bytes are carried, never decoded: there is nothing to show.
    if (!std::holds_alternative<label::DrawnPicture>(item)) std::visit(draughtsman, item);
  }
}

class PngPainter final : public label::Painter {
 public:
  Result<std::string> paint(const label::Page& page, int longest) const override {
    if (!is_paintable(page, longest)) return Failure{FailureCode::BadValue, {{"field", "page"}}, {}};
    const std::lock_guard guard{text_lock()};
    try {
      return painted(page, longest / points(std::max(page.width, page.height)));
    } catch (const std::exception& error) {
      return Failure{FailureCode::Internal, {{"what", error.what()}}, {}};
    }
  }

 private:
  Result<std::string> painted(const label::Page& page, double scale) const {
    const SurfaceHandle surface{cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels(page.width, scale),
                                                           pixels(page.height, scale))};
    const PenHandle pen{cairo_create(surface.get())};
    draw(pen.get(), page, scale);
    std::string bytes;
    cairo_status_t status = cairo_status(pen.get());
    if (status == CAIRO_STATUS_SUCCESS) {
      status = cairo_surface_write_to_png_stream(surface.get(), append, &bytes);
    }
    if (status == CAIRO_STATUS_SUCCESS) return bytes;
    return Failure{FailureCode::Internal, {{"what", cairo_status_to_string(status)}}, {}};
  }
};

}  // namespace

std::unique_ptr<label::Painter> make_painter() {
  return std::make_unique<PngPainter>();
}

}  // namespace loadlight::render
