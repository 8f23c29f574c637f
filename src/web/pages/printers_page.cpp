// The office's label printers: where they are, what is loaded in them, how they stand.
#include "loadlight/app/pack_choices.h"
#include "web/pages/pages.h"
#include "web/printer_link.h"
#include "web/printer_view.h"

namespace loadlight::web {
namespace {

View lines_of(const std::vector<app::OfficePrinter>& printers) {
  View list = View::array();
  for (const app::OfficePrinter& printer : printers) {
    list.push_back({{"name", printer.name},
                    {"uri", printer.uri},
                    {"stock", printer.stock},
                    {"state", "/pack/printers/state?name=" + url_escaped(printer.name)}});
  }
  return list;
}

}  // namespace

Response printers_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto printers = app::list_printers((*office)->ports);
  if (!printers) return visit.failed(printers.failure());
  const auto choices = app::pack_choices((*office)->ports);
  if (!choices) return visit.failed(choices.failure());
  View stocks = View::array();
  for (const auto& stock : choices->stocks) stocks.push_back({{"code", stock.code}, {"name", stock.name}});
  return visit.page("pages/printers", {{"title", visit.word("page.printers.title")},
                                       {"at", "/pack"},
                                       {"printers", lines_of(*printers)},
                                       {"none", printers->empty()},
                                       {"stocks", stocks},
                                       {"set", visit.form_for("/pack/printers")},
                                       {"remove", visit.form_for("/pack/printers/remove")}});
}

Response set_printer(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const app::PrinterRequest request{visit.operator_code(),
                                    {std::string{visit.field("name")}, std::string{visit.field("address")},
                                     std::string{visit.field("stock")}}};
  const auto set = app::set_printer((*office)->ports, request);
  if (!set) return visit.failed(set.failure());
  return visit.go_to("/pack/printers", "printer-set", {{"printer", set->name}});
}

Response remove_printer(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const std::string name{visit.field("name")};
  const auto removed = app::remove_printer((*office)->ports, visit.operator_code(), name);
  if (!removed) return visit.failed(removed.failure());
  return visit.go_to("/pack/printers", "printer-removed", {{"printer", name}});
}

Response printer_state(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto printer = app::find_printer((*office)->ports, visit.asked("name"));
  if (!printer) return visit.failed(printer.failure());
  const auto printers = visit.desk.kept<PrinterLink>().open(visit.desk.world());
  if (!printers) return visit.failed(printers.failure());
  const auto state = (*printers)->state(printer->address());
  if (!state) return visit.failed(state.failure());
  return visit.json(printer_view(visit, *state));
}

}  // namespace loadlight::web
