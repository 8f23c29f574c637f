#include "render/draughtsman.h"

#include <vector>

#include "render/jpeg_size.h"
#include "render/pango_text.h"
#include "render/symbol_outline.h"

namespace loadlight::render {
namespace {

// cairo keeps coordinates in 1/256 point and writes them in thousandths. Dark areas are drawn this much
// (points) smaller on each side, so that no rounding carries one over the edge of its printer dots: a
// rasteriser that darkens every dot it touches would then print it a whole dot wider. It is under 2 % of
// a dot at 300 dpi.
constexpr double kInset = 0.004;

}  // namespace

void Draughtsman::operator()(const label::DrawnText& text) const {
  PangoLayout* const layout = PangoText::shared().one_line(text.text, text.style);
  cairo_move_to(pen_, points(text.x), points(text.baseline));
  pango_cairo_show_layout_line(pen_, pango_layout_get_line_readonly(layout, 0));
}

void Draughtsman::operator()(const label::DrawnLine& line) const {
  cairo_set_line_width(pen_, points(line.width));
  cairo_move_to(pen_, points(line.x1), points(line.y1));
  cairo_line_to(pen_, points(line.x2), points(line.y2));
  cairo_stroke(pen_);
}

void Draughtsman::operator()(const label::DrawnFrame& frame) const {
  cairo_set_line_width(pen_, points(frame.stroke));
  cairo_rectangle(pen_, points(frame.x), points(frame.y), points(frame.width), points(frame.height));
  cairo_stroke(pen_);
}

void Draughtsman::operator()(const label::DrawnOutline& outline) const {
  cairo_new_path(pen_);
  for (const auto& [x, y] : outline.points) cairo_line_to(pen_, points(x), points(y));
  cairo_close_path(pen_);
  if (outline.ink == label::Ink::White) cairo_set_source_rgb(pen_, 1, 1, 1);
  if (outline.filled) {
    cairo_fill(pen_);
  } else {
    stroke(outline);
  }
  cairo_set_source_rgb(pen_, 0, 0, 0);
}

void Draughtsman::stroke(const label::DrawnOutline& outline) const {
  std::vector<double> dashes;
  for (const double length : outline.dashes) dashes.push_back(points(length));
  cairo_set_line_width(pen_, points(outline.stroke));
  cairo_set_dash(pen_, dashes.data(), static_cast<int>(dashes.size()), 0);
  cairo_stroke(pen_);
  cairo_set_dash(pen_, nullptr, 0, 0);
}

// The JPEG's own bytes go into the PDF; of the surface that carries them only the size is looked at.
void Draughtsman::operator()(const label::DrawnPicture& picture) const {
  const auto size = jpeg_size(picture.jpeg);
  if (!size) return;
  const SurfaceHandle surface{cairo_image_surface_create(CAIRO_FORMAT_A8, size->width, size->height)};
  const auto* bytes = reinterpret_cast<const unsigned char*>(picture.jpeg.data());
  cairo_surface_set_mime_data(surface.get(), CAIRO_MIME_TYPE_JPEG, bytes, picture.jpeg.size(), nullptr,
                              nullptr);
  cairo_save(pen_);
  cairo_translate(pen_, points(picture.x), points(picture.y));
  cairo_scale(pen_, points(picture.width) / size->width, points(picture.height) / size->height);
  cairo_set_source_surface(pen_, surface.get(), 0, 0);
  cairo_paint(pen_);
  cairo_restore(pen_);
  cairo_set_source_rgb(pen_, 0, 0, 0);
}

// All dark areas as one path, so that no seam shows between modules.
void Draughtsman::operator()(const label::DrawnSymbol& symbol) const {
  const double dot = 72.0 / symbol.dpi;
  cairo_new_path(pen_);  // drawing text leaves a current point behind
  for (const Outline& outline : outlines_of(symbol.grid)) {
    for (const OutlineCorner& corner : outline) {
      cairo_line_to(pen_, (symbol.x_dots + corner.x * symbol.module_dots) * dot + corner.inward_x * kInset,
                    (symbol.y_dots + corner.y * symbol.module_dots) * dot + corner.inward_y * kInset);
    }
    cairo_close_path(pen_);
    cairo_new_sub_path(pen_);
  }
  cairo_fill(pen_);
}

}  // namespace loadlight::render
