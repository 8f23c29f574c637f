#include "loadlight/app/send_labels.h"

#include "app/label_run.h"
#include "loadlight/app/package_reference.h"
#include "loadlight/app/paper_in_hand.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

port::PageSize page_of(const label::LabelTemplate& form) {
  return {form.grid.page_width, form.grid.page_height};
}

// Why it would not take labels of this page at all.
std::optional<std::string> unwillingness(const port::PrinterState& state) {
  if (!state.takes_jobs) return "takes-no-jobs";
  if (!state.takes_pdf) return "takes-no-pdf";
  if (!state.takes_page) return "size-unknown";
  return std::nullopt;
}

Result<void> ask_first(const port::Printers& printers, const OfficePrinter& printer,
                       const label::LabelTemplate& form) {
  const auto state = printers.state(printer.address(), page_of(form));
  if (!state) return state.failure();
  const auto why = unwillingness(*state);
  if (!why) return {};
  return Failure{FailureCode::PrinterRefused, {{"printer", printer.name}, {"why", *why}}, {}};
}

Result<label::LabelTemplate> form_for(const Ports& ports, const PrintShop& shop, const Paper& paper) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  auto setting = settle_paper(**unit, shop, paper, label::Subject::Package, true);
  if (!setting) return setting.failure();
  return std::move(setting->form);
}

SentLabels sent(const PrintShop& shop, const port::Printers& printers, const OfficePrinter& printer,
                PrintReply printed, std::string pdf) {
  SentLabels labels{std::move(printed), std::move(pdf), std::nullopt, std::nullopt};
  const auto number = send_paper(shop, printers, printer, labels.printed.run, labels.pdf);
  if (number) {
    labels.job = *number;
  } else {
    labels.trouble = number.failure();
  }
  return labels;
}

// The template of the print run that is printed again. Other labels in the printer would carry what was laid out
// for these.
Result<label::LabelTemplate> form_of_run(const Ports& ports, const PrintShop& shop, const OfficePrinter& printer,
                                         const ReprintRequest& request) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto packages = find_packages(ports, **unit, request.packages);
  if (!packages) return packages.failure();
  if (packages->empty()) return Failure{FailureCode::BadValue, {{"field", "package"}, {"given", ""}}, {}};
  const auto run = (*unit)->print_runs().find(packages->front().print_run);
  if (!run) return run.failure();
  if (!*run) return Failure{FailureCode::RecordDamaged, {{"why", "print run"}}, {}};
  if ((**run).stock == printer.stock) return shop.find_template((**run).template_name);
  return Failure{FailureCode::BadValue, {{"field", "printer"}, {"given", printer.name}}, {}};
}

}  // namespace

Result<int> send_paper(const PrintShop& shop, const port::Printers& printers, const OfficePrinter& printer,
                       const core::PrintRun& run, const std::string& pdf) {
  const auto form = shop.find_template(run.template_name);
  if (!form) return form.failure();
  return printers.print(printer.address(), {"Loadlight " + std::to_string(run.number), pdf, page_of(*form)});
}

Result<SentLabels> send_labels(const Ports& ports, const PrintShop& shop, const port::Printers& printers,
                               const std::string& name, PrintRequest request) {
  const auto printer = find_printer(ports, name);
  if (!printer) return printer.failure();
  request.paper.stock = printer->stock;
  const auto form = form_for(ports, shop, request.paper);
  if (!form) return form.failure();
  if (const auto ok = ask_first(printers, *printer, *form); !ok) return ok.failure();
  PaperInHand paper{shop};
  auto printed = print_labels(ports, paper.shop(), request);
  if (!printed) return printed.failure();
  return sent(shop, printers, *printer, std::move(*printed), paper.pdf());
}

Result<SentLabels> send_again(const Ports& ports, const PrintShop& shop, const port::Printers& printers,
                              const std::string& name, const ReprintRequest& request) {
  const auto printer = find_printer(ports, name);
  if (!printer) return printer.failure();
  const auto form = form_of_run(ports, shop, *printer, request);
  if (!form) return form.failure();
  if (const auto ok = ask_first(printers, *printer, *form); !ok) return ok.failure();
  PaperInHand paper{shop};
  auto printed = reprint_labels(ports, paper.shop(), request);
  if (!printed) return printed.failure();
  return sent(shop, printers, *printer, std::move(*printed), paper.pdf());
}

}  // namespace loadlight::app
