// A load's record on paper and its cycle as a drawing.
#include "loadlight/app/draw_cycle.h"
#include "loadlight/app/print_record.h"
#include "web/form_values.h"
#include "web/pages/pages.h"

namespace loadlight::web {

Response load_plot(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  auto drawing = app::cycle_drawing((*office)->ports, visit.language.words, *load);
  if (!drawing) return visit.failed(drawing.failure());
  return visit.file("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + *drawing, "image/svg+xml");
}

Response load_record(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  const auto paper = visit.asked("paper") == "letter" ? app::PageSize::Letter : app::PageSize::A4;
  auto pdf = app::load_record_pdf(
      (*office)->ports, {(*shop)->shop.gauge, (*shop)->shop.press, visit.language.words, paper}, *load);
  if (!pdf) return visit.failed(pdf.failure());
  return visit.file(std::move(*pdf), "application/pdf", "load-" + load->text() + ".pdf");
}

}  // namespace loadlight::web
