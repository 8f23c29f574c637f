// Labels printed: into a PDF for the browser, or straight to a label printer.
#include "loadlight/app/paper_in_hand.h"
#include "web/held_papers.h"
#include "web/pages/pages.h"
#include "web/print_order.h"
#include "web/printer_link.h"

namespace loadlight::web {
namespace {

using core::Result;

std::string file_name(const core::PrintRun& run) {
  return "labels-" + std::to_string(run.number) + ".pdf";
}

// On to the print run, with the PDF at hand.
Response printed(const Visit& visit, const app::PrintReply& reply, std::string pdf, std::string_view done) {
  const std::string key = visit.desk.kept<HeldPapers>().keep({file_name(reply.run), std::move(pdf)});
  return visit.go_to("/pack/runs/" + std::to_string(reply.run.number) + "?paper=" + key, done,
                     {{"count", std::to_string(reply.packages.size())},
                      {"load", reply.packages.front().load.text()}});
}

Response sent(const Visit& visit, const app::SentLabels& labels, const std::string& printer) {
  const int run = labels.printed.run.number;
  const std::string paper = visit.desk.kept<HeldPapers>().keep({file_name(labels.printed.run), labels.pdf});
  const std::string job =
      visit.desk.kept<PrinterLink>().keep({printer, run, paper, labels.job, labels.trouble});
  const std::string path = "/pack/runs/" + std::to_string(run) + "?paper=" + paper + "&job=" + job;
  if (labels.trouble) return visit.go_to(path);
  return visit.go_to(path, "labels-sent", {{"printer", printer}});
}

app::ReprintRequest reprint_order(const Visit& visit, const std::vector<core::Package>& of_run) {
  app::ReprintRequest request;
  request.operator_code = visit.operator_code();
  request.packages = visit.form.values("package");
  request.whole_run = visit.field("whole") == "yes";
  if (request.whole_run && !of_run.empty()) request.packages = {of_run.front().id.text()};
  if (const auto cell = whole_number(visit.field("first_cell"))) request.first_cell = *cell;
  return request;
}

}  // namespace

Response pack_print(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  const auto order = print_order(visit.form, visit.operator_code());
  if (!order) return visit.failed(order.failure());
  const std::string printer{visit.field("printer")};
  if (printer.empty()) {
    app::PaperInHand paper{(*shop)->shop};
    const auto reply = app::print_labels((*office)->ports, paper.shop(), *order);
    return reply ? printed(visit, *reply, paper.pdf(), "labels-printed") : visit.failed(reply.failure());
  }
  const auto printers = visit.desk.kept<PrinterLink>().open(visit.desk.world());
  if (!printers) return visit.failed(printers.failure());
  const auto labels = app::send_labels((*office)->ports, (*shop)->shop, **printers, printer, *order);
  return labels ? sent(visit, *labels, printer) : visit.failed(labels.failure());
}

Response reprint_run(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return visit.failed(shop.failure());
  const auto unit = (*office)->ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const auto of_run = (*unit)->packages().of_print_run(whole_number(visit.parameter("run")).value_or(0));
  if (!of_run) return visit.failed(of_run.failure());
  const auto request = reprint_order(visit, *of_run);
  const std::string printer{visit.field("printer")};
  if (printer.empty()) {
    app::PaperInHand paper{(*shop)->shop};
    const auto reply = app::reprint_labels((*office)->ports, paper.shop(), request);
    return reply ? printed(visit, *reply, paper.pdf(), "labels-reprinted") : visit.failed(reply.failure());
  }
  const auto printers = visit.desk.kept<PrinterLink>().open(visit.desk.world());
  if (!printers) return visit.failed(printers.failure());
  const auto labels = app::send_again((*office)->ports, (*shop)->shop, **printers, printer, request);
  return labels ? sent(visit, *labels, printer) : visit.failed(labels.failure());
}

Response pack_paper(Visit& visit) {
  const auto paper = visit.desk.kept<HeldPapers>().find(visit.parameter("paper"));
  if (!paper) return visit.failed({core::FailureCode::PageUnknown, {}, {}});
  return visit.file(paper->pdf, "application/pdf", paper->name);
}

}  // namespace loadlight::web
