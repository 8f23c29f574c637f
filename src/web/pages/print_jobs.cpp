// Labels on their way to a label printer: where they stand, stopped, sent again.
#include "web/held_papers.h"
#include "web/pages/pages.h"
#include "web/printer_link.h"
#include "web/printer_view.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

// A job with the printer it went to and the door to it.
struct Reached final {
  SentJob job;
  app::OfficePrinter printer;
  const port::Printers* printers = nullptr;
};

Result<Reached> reach(const Visit& visit) {
  PrinterLink& link = visit.desk.kept<PrinterLink>();
  auto job = link.find(visit.parameter("job"));
  if (!job) return Failure{FailureCode::JobUnknown, {}, {}};
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  auto printer = app::find_printer((*office)->ports, job->printer);
  if (!printer) return printer.failure();
  const auto printers = link.open(visit.desk.world());
  if (!printers) return printers.failure();
  return Reached{std::move(*job), std::move(*printer), *printers};
}

Result<int> sent_again(const Visit& visit, const Reached& reached) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return shop.failure();
  const auto paper = visit.desk.kept<HeldPapers>().find(reached.job.paper);
  if (!paper) return Failure{FailureCode::JobUnknown, {}, {}};
  const auto unit = (*office)->ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto run = (*unit)->print_runs().find(reached.job.run);
  if (!run) return run.failure();
  if (!*run) return Failure{FailureCode::JobUnknown, {}, {}};
  return app::send_paper((*shop)->shop, *reached.printers, reached.printer, **run, paper->pdf);
}

}  // namespace

Response print_job(Visit& visit) {
  const auto reached = reach(visit);
  if (!reached) return visit.failed(reached.failure());
  if (!reached->job.number) return visit.failed({FailureCode::JobUnknown, {}, {}});
  const auto address = reached->printer.address();
  const auto state = reached->printers->job(address, *reached->job.number);
  if (!state) return visit.failed(state.failure());
  const auto printer = reached->printers->state(address);
  if (!printer) return visit.failed(printer.failure());
  const View standing = printer_view(visit, *printer);
  return visit.json(
      {{"job", job_view(visit, *state, standing["ready"].get<bool>())}, {"printer", standing}});
}

Response cancel_print_job(Visit& visit) {
  const auto reached = reach(visit);
  if (!reached) return visit.failed(reached.failure());
  if (!reached->job.number) return visit.failed({FailureCode::JobUnknown, {}, {}});
  const auto cancelled = reached->printers->cancel(reached->printer.address(), *reached->job.number);
  if (!cancelled) return visit.failed(cancelled.failure());
  const std::string run = std::to_string(reached->job.run);
  return visit.go_to("/pack/runs/" + run + "?paper=" + reached->job.paper, "print-cancelled",
                     {{"printer", reached->job.printer}});
}

// Only what the printer never took: what it took is printed again by a reprint, which the record keeps.
Response send_print_job(Visit& visit) {
  const auto reached = reach(visit);
  if (!reached) return visit.failed(reached.failure());
  if (reached->job.number) return visit.failed({FailureCode::JobUnknown, {}, {}});
  const auto number = sent_again(visit, *reached);
  if (!number) return visit.failed(number.failure());
  SentJob job = reached->job;
  job.number = *number;
  job.trouble.reset();
  const std::string key{visit.parameter("job")};
  visit.desk.kept<PrinterLink>().settle(key, job);
  return visit.go_to("/pack/runs/" + std::to_string(job.run) + "?paper=" + job.paper + "&job=" + key,
                     "labels-sent", {{"printer", job.printer}});
}

}  // namespace loadlight::web
