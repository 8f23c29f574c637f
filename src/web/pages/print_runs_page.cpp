// What was printed lately, and one print run with its labels: printed again, voided.
#include "loadlight/app/change_labels.h"
#include "web/held_papers.h"
#include "web/package_view.h"
#include "web/pages/pages.h"
#include "web/print_order.h"
#include "web/printer_link.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr int kRunsShown = 25;

Result<View> run_line(const Visit& visit, const port::Unit& unit, const port::Zone& zone, int number) {
  const auto run = unit.print_runs().find(number);
  if (!run) return run.failure();
  const auto packages = unit.packages().of_print_run(number);
  if (!packages) return packages.failure();
  if (!*run || packages->empty()) return View{};
  const core::Package& first = packages->front();
  const auto contents = unit.contents().find(first.contents);
  if (!contents) return contents.failure();
  return View{{"number", std::to_string(number)},
              {"count", std::to_string(packages->size())},
              {"contents", *contents ? (**contents).name : first.contents},
              {"load", first.load.text()},
              {"when", time_text(visit, zone, (**run).made_at)},
              {"link", "/pack/runs/" + std::to_string(number)}};
}

Result<View> latest_runs(const Visit& visit, const port::Unit& unit, const port::Zone& zone) {
  const auto highest = unit.print_runs().highest_number();
  if (!highest) return highest.failure();
  View list = View::array();
  for (int number = *highest; number > 0 && number > *highest - kRunsShown; --number) {
    auto line = run_line(visit, unit, zone, number);
    if (!line) return line;
    if (!line->empty()) list.push_back(std::move(*line));
  }
  return list;
}

View labels_view(const Visit& visit, const std::vector<core::Package>& packages) {
  View list = View::array();
  for (const core::Package& package : packages) {
    const bool usable = package.state == core::PackageState::Labelled ||
                        package.state == core::PackageState::Loaded;
    list.push_back({{"cell", std::to_string(package.cell)},
                    {"id", package.id.text()},
                    {"grouped", package.id.grouped()},
                    {"state", visit.word("detail.state." + code_text(package.state))},
                    {"void", package.state == core::PackageState::Void},
                    {"usable", usable},
                    {"replace", usable ? "/pack/packages/" + package.id.text() + "/replace" : ""},
                    {"use_by", package.use_by ? day_text(visit, *package.use_by) : ""}});
  }
  return list;
}

View printers_with(const std::vector<app::OfficePrinter>& printers, const std::string& stock) {
  View list = View::array();
  for (const app::OfficePrinter& printer : printers) {
    if (printer.stock == stock) list.push_back({{"name", printer.name}});
  }
  return list;
}

// Where labels stand that were just sent to a printer.
View job_of(const Visit& visit, const SentJob& job, const std::string& key) {
  const std::string path = "/pack/jobs/" + key;
  View view{{"printer", job.printer}, {"path", path}, {"taken", job.number.has_value()}};
  if (job.trouble) view["trouble"] = visit.failure_view(*job.trouble);
  view["cancel"] = visit.form_for(path + "/cancel");
  view["send"] = visit.form_for(path + "/send");
  return view;
}

// The PDF and the job that the address names, while they are kept.
void add_paper(const Visit& visit, View& view) {
  const std::string paper{visit.asked("paper").substr(0, 60)};
  const std::string job{visit.asked("job").substr(0, 60)};
  if (!paper.empty() && visit.desk.kept<HeldPapers>().find(paper)) view["paper"] = "/pack/papers/" + paper;
  const auto sent = visit.desk.kept<PrinterLink>().find(job);
  if (!sent) return;
  view["job"] = job_of(visit, *sent, job);
  view["sent"] = sent->number.has_value();
}

}  // namespace

Response print_runs(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto unit = (*office)->ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const auto runs = latest_runs(visit, **unit, *(*office)->zone);
  if (!runs) return visit.failed(runs.failure());
  return visit.page("pages/print-runs", {{"title", visit.word("page.runs.title")},
                                         {"at", "/pack"},
                                         {"runs", *runs},
                                         {"none", runs->empty()}});
}

Response print_run(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto unit = (*office)->ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const auto number = whole_number(visit.parameter("run"));
  const auto run = (*unit)->print_runs().find(number.value_or(0));
  if (!run) return visit.failed(run.failure());
  if (!*run) return visit.failed({FailureCode::PageUnknown, {}, {}});
  const auto line = run_line(visit, **unit, *(*office)->zone, *number);
  if (!line) return visit.failed(line.failure());
  const auto packages = (*unit)->packages().of_print_run(*number);
  if (!packages) return visit.failed(packages.failure());
  const auto printers = app::list_printers((*office)->ports);
  if (!printers) return visit.failed(printers.failure());
  const std::string path = "/pack/runs/" + std::to_string(*number);
  View view{{"title", visit.word("page.run.title", {{"run", std::to_string(*number)}})},
            {"at", "/pack"},
            {"run", *line},
            {"template", (**run).template_name},
            {"stock", (**run).stock},
            {"labels", labels_view(visit, *packages)},
            {"printers", printers_with(*printers, (**run).stock)},
            {"again", visit.form_for(path + "/reprint")},
            {"voiding", visit.form_for(path + "/void")}};
  add_paper(visit, view);
  return visit.page("pages/print-run", std::move(view));
}

Response void_of_run(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const std::string why{visit.field("why").substr(0, 200)};
  if (why.empty()) return visit.failed({FailureCode::ReasonMissing, {{"field", "why"}}, {}});
  const auto packages = visit.form.values("package");
  if (packages.empty()) return visit.failed({FailureCode::BadValue, {{"field", "package"}}, {}});
  const auto voided = app::void_labels((*office)->ports, {visit.operator_code(), packages, why});
  if (!voided) return visit.failed(voided.failure());
  return visit.go_to("/pack/runs/" + std::string{visit.parameter("run")}, "labels-voided",
                     {{"count", std::to_string(voided->size())}});
}

}  // namespace loadlight::web
