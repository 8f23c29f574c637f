// Pages as a PDF by cairo.
#include <cairo-pdf.h>

#include <cmath>
#include <exception>

#include "loadlight/render/render.h"
#include "render/pango_text.h"

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

double points(double millimetres) { return millimetres / label::kMillimetresPerPoint; }

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
  Draughtsman(cairo_t* pen, const PangoText& setter) : pen_(pen), setter_(setter) {}

  void operator()(const label::DrawnText& text) const {
    const LayoutHandle layout = setter_.layout(text.text, text.style);
    cairo_move_to(pen_, points(text.x), points(text.baseline));
    pango_cairo_show_layout_line(pen_, pango_layout_get_line_readonly(layout.get(), 0));
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

  // Every run of dark modules in a row, and every run in a column, as rectangles of one path: the columns
  // close the seams between rows.
  void operator()(const label::DrawnSymbol& symbol) const {
    const int side = symbol.grid.form.side();
    for (int across = 0; across < side; ++across) {
      add_runs(symbol, [&](int along) { return symbol.grid.dark(along, across); },
               [&](int from, int to) { add_dots(symbol, from, across, to, across + 1); });
      add_runs(symbol, [&](int along) { return symbol.grid.dark(across, along); },
               [&](int from, int to) { add_dots(symbol, across, from, across + 1, to); });
    }
    cairo_fill(pen_);
  }

 private:
  template <class Dark, class Add>
  static void add_runs(const label::DrawnSymbol& symbol, Dark dark, Add add) {
    const int side = symbol.grid.form.side();
    for (int from = 0; from < side; ++from) {
      if (!dark(from)) continue;
      int to = from;
      while (to < side && dark(to)) ++to;
      add(from, to);
      from = to;
    }
  }

  // The modules from column x1, row y1 up to but without column x2, row y2.
  void add_dots(const label::DrawnSymbol& symbol, int x1, int y1, int x2, int y2) const {
    const double dot = 72.0 / symbol.dpi;
    const double left = (symbol.x_dots + x1 * symbol.module_dots) * dot + kInset;
    const double top = (symbol.y_dots + y1 * symbol.module_dots) * dot + kInset;
    const double right = (symbol.x_dots + x2 * symbol.module_dots) * dot - kInset;
    const double bottom = (symbol.y_dots + y2 * symbol.module_dots) * dot - kInset;
    cairo_rectangle(pen_, left, top, right - left, bottom - top);
  }

  cairo_t* pen_;
  const PangoText& setter_;
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
    if (pages.empty() || pages.size() > kMostPages) return Failure{FailureCode::BadValue, {{"field", "pages"}}, {}};
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
    const Draughtsman draughtsman{pen, setter_};
    for (const label::Drawn& item : page.items) std::visit(draughtsman, item);
    cairo_show_page(pen);
  }

  PangoText setter_;
};

}  // namespace

std::unique_ptr<label::Press> make_press() { return std::make_unique<PdfPress>(); }

}  // namespace loadlight::render
