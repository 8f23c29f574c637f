// Pages as a PDF by cairo.
#include <cairo-pdf.h>

#include <exception>

#include "loadlight/render/render.h"
#include "render/draughtsman.h"
#include "render/pango_text.h"

namespace loadlight::render {
namespace {

using core::Failure;
using core::FailureCode;

constexpr std::size_t kMostPages = 5000;

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  try {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
  } catch (const std::exception&) {
    return CAIRO_STATUS_WRITE_ERROR;
  }
}

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
    const SurfaceHandle surface{cairo_pdf_surface_create_for_stream(
        append, &bytes, points(pages.front().width), points(pages.front().height))};
    describe(surface.get(), made);
    const PenHandle pen{cairo_create(surface.get())};
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
