// Pages as a PDF by cairo.
#include <cairo-pdf.h>

#include <cmath>
#include <exception>

#include "loadlight/render/render.h"
#include "render/jpeg_size.h"
#include "render/pango_text.h"
#include "render/symbol_outline.h"

namespace loadlight::render {
namespace {

using core::Failure;
using core::FailureCode;

constexpr std::size_t kMostPages = 5000;

// cairo keeps coordinates in 1/256 point and writes them in thousandths. Dark areas are drawn this much
// (points) smaller on each side, so that no rounding carries one over the edge of its printer dots: a
// rasteriser that darkens every dot it touches would then print it a whole dot wider. It is under 2 % of
// a dot at 300 dpi.
constexpr double kInset = 0.004;

double points(double millimetres) {
  return millimetres / label::kMillimetresPerPoint;
}

struct DestroySurface final {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct DestroyPen final {
  void operator()(cairo_t* pen) const { cairo_destroy(pen); }
};

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  try {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
  } catch (const std::exception&) {
    return CAIRO_STATUS_WRITE_ERROR;
  }
}

// Draws on one page after another.
class Draughtsman final {
 public:
  explicit Draughtsman(cairo_t* pen) : pen_(pen) {}

  void operator()(const label::DrawnText& text) const {
    PangoLayout* const layout = PangoText::shared().one_line(text.text, text.style);
    cairo_move_to(pen_, points(text.x), points(text.baseline));
    pango_cairo_show_layout_line(pen_, pango_layout_get_line_readonly(layout, 0));
  }

  void operator()(const label::DrawnLine& line) const {
    cairo_set_line_width(pen_, points(line.width));
    cairo_move_to(pen_, points(line.x1), points(line.y1));
    cairo_line_to(pen_, points(line.x2), points(line.y2));
    cairo_stroke(pen_);
  }

  void operator()(const label::DrawnFrame& frame) const {
    cairo_set_line_width(pen_, points(frame.stroke));
    cairo_rectangle(pen_, points(frame.x), points(frame.y), points(frame.width), points(frame.height));
    cairo_stroke(pen_);
  }

  void operator()(const label::DrawnOutline& outline) const {
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

  void stroke(const label::DrawnOutline& outline) const {
    std::vector<double> dashes;
    for (const double length : outline.dashes) dashes.push_back(points(length));
    cairo_set_line_width(pen_, points(outline.stroke));
    cairo_set_dash(pen_, dashes.data(), static_cast<int>(dashes.size()), 0);
    cairo_stroke(pen_);
    cairo_set_dash(pen_, nullptr, 0, 0);
  }

  // The JPEG's own bytes go into the PDF; of the surface that carries them only the size is looked at.
  void operator()(const label::DrawnPicture& picture) const {
    const auto size = jpeg_size(picture.jpeg);
    if (!size) return;
    const std::unique_ptr<cairo_surface_t, DestroySurface> surface{
        cairo_image_surface_create(CAIRO_FORMAT_A8, size->width, size->height)};
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
  void operator()(const label::DrawnSymbol& symbol) const {
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

 private:
  cairo_t* pen_;
};

void describe(cairo_surface_t* surface, core::Instant made) {
  const std::string date = core::to_text(made);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date.c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE, date.c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "Loadlight");
}

class PdfPress final : public label::Press {
 public:
  core::Result<std::string> print(const std::vector<label::Page>& pages, core::Instant made) const override {
    if (pages.empty() || pages.size() > kMostPages)
      return Failure{FailureCode::BadValue, {{"field", "pages"}}, {}};
    const std::lock_guard guard{text_lock()};
    try {
      return draw(pages, made);
    } catch (const std::exception& error) {
      return Failure{FailureCode::Internal, {{"what", error.what()}}, {}};
    }
  }

 private:
  core::Result<std::string> draw(const std::vector<label::Page>& pages, core::Instant made) const {
    std::string bytes;
    const std::unique_ptr<cairo_surface_t, DestroySurface> surface{cairo_pdf_surface_create_for_stream(
        append, &bytes, points(pages.front().width), points(pages.front().height))};
    describe(surface.get(), made);
    const std::unique_ptr<cairo_t, DestroyPen> pen{cairo_create(surface.get())};
    for (const label::Page& page : pages) draw_page(surface.get(), pen.get(), page);
    cairo_surface_finish(surface.get());
    for (cairo_status_t status : {cairo_status(pen.get()), cairo_surface_status(surface.get())}) {
      if (status == CAIRO_STATUS_SUCCESS) continue;
      return Failure{FailureCode::Internal, {{"what", cairo_status_to_string(status)}}, {}};
    }
    return bytes;
  }

  void draw_page(cairo_surface_t* surface, cairo_t* pen, const label::Page& page) const {
    cairo_pdf_surface_set_size(surface, points(page.width), points(page.height));
    const Draughtsman draughtsman{pen};
    for (const label::Drawn& item : page.items) std::visit(draughtsman, item);
    cairo_show_page(pen);
  }
};

}  // namespace

std::unique_ptr<label::Press> make_press() {
  return std::make_unique<PdfPress>();
}

}  // namespace loadlight::render
