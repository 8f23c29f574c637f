#include "loadlight/app/send_labels.h"

#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

using core::Failure;
using core::FailureCode;
using core::LoadName;

const LoadName kLoad{"S1", 1};

// Printers turned by hand.
class HandPrinters final : public port::Printers {
 public:
  port::PrinterState standing;
  bool gone = false;
  bool refuses = false;
  mutable std::vector<port::PrintJob> jobs;

  core::Result<port::PrinterState> state(const port::PrinterAddress& printer,
                                         const std::optional<port::PageSize>&) const override {
    if (gone) return Failure{FailureCode::PrinterUnavailable, {{"printer", printer.name}}, {}};
    return standing;
  }
  core::Result<int> print(const port::PrinterAddress& printer, const port::PrintJob& job) const override {
    if (refuses) return Failure{FailureCode::PrinterRefused, {{"printer", printer.name}}, {}};
    jobs.push_back(job);
    return static_cast<int>(jobs.size());
  }
  core::Result<port::JobState> job(const port::PrinterAddress&, int) const override {
    return port::JobState::Done;
  }
  core::Result<void> cancel(const port::PrinterAddress&, int) const override { return {}; }
};

app::PrinterRequest bench(std::string uri = "ipp://printer.invalid/ipp/print") {
  return {"AB", {"Bench", std::move(uri), "ROLL"}};
}

core::Result<app::SentLabels> send(OfficeAtWork& office, const HandPrinters& printers) {
  return app::send_labels(office.ports(), office.shop(), printers, "Bench", office.print_request(kLoad));
}

int runs_of(OfficeAtWork& office) {
  return must(must(office.store.begin(port::Access::Read))->print_runs().highest_number());
}

TEST_CASE("A printer is kept by name, changed in place and taken away") {
  OfficeAtWork office;
  must(app::set_printer(office.ports(), bench()));
  must(app::set_printer(office.ports(), bench("ipps://other.invalid:8631/x")));
  const auto printers = must(app::list_printers(office.ports()));
  REQUIRE(printers.size() == 1);
  REQUIRE(printers.front().uri == "ipps://other.invalid:8631/x");
  REQUIRE(printers.front().stock == "ROLL");
  must(app::remove_printer(office.ports(), "AB", "Bench"));
  REQUIRE(must(app::list_printers(office.ports())).empty());
  REQUIRE(code_of(app::find_printer(office.ports(), "Bench")) == "code-unknown");
}

TEST_CASE("Only a lead sets up a printer, with an address of its kind and stock for steam") {
  OfficeAtWork office;
  auto staff = bench();
  staff.operator_code = "CD";
  REQUIRE(code_of(app::set_printer(office.ports(), staff)) == "lead-required");
  for (const char* uri : {"", "http://a/", "ipp://", "ipp:///x", "ipp://:631/", "ipp://a@b/", "ipp://a/ b"}) {
    CAPTURE(uri);
    REQUIRE(code_of(app::set_printer(office.ports(), bench(uri))) == "bad-value");
  }
  auto request = bench();
  request.printer.stock = "DIRECT";
  REQUIRE(code_of(app::set_printer(office.ports(), request)) == "stock-direct-thermal");
  request.printer.stock = "NEW";
  REQUIRE(code_of(app::set_printer(office.ports(), request)) == "stock-unrated");
}

TEST_CASE("Labels are recorded and sent on the printer's stock") {
  OfficeAtWork office;
  must(app::set_printer(office.ports(), bench()));
  const HandPrinters printers;
  const auto sent = must(send(office, printers));
  REQUIRE(sent.job == 1);
  REQUIRE_FALSE(sent.trouble);
  REQUIRE(sent.printed.run.stock == "ROLL");
  REQUIRE(printers.jobs.size() == 1);
  REQUIRE(printers.jobs.front().pdf == sent.pdf);
  REQUIRE(printers.jobs.front().page.width == 57);
  REQUIRE(printers.jobs.front().page.height == 32);
  REQUIRE(runs_of(office) == 1);
}

TEST_CASE("A printer that is gone or takes no such labels leaves nothing recorded") {
  OfficeAtWork office;
  must(app::set_printer(office.ports(), bench()));
  HandPrinters printers;
  printers.gone = true;
  REQUIRE(code_of(send(office, printers)) == "printer-unavailable");
  printers.gone = false;
  for (bool port::PrinterState::*able : {&port::PrinterState::takes_jobs, &port::PrinterState::takes_pdf,
                                         &port::PrinterState::takes_page}) {
    printers.standing = {};
    printers.standing.*able = false;
    REQUIRE(code_of(send(office, printers)) == "printer-refused");
  }
  REQUIRE(runs_of(office) == 0);
  REQUIRE(printers.jobs.empty());
}

TEST_CASE("A printer that only lacks labels is sent them") {
  OfficeAtWork office;
  must(app::set_printer(office.ports(), bench()));
  HandPrinters printers;
  printers.standing.activity = port::PrinterActivity::Stopped;
  printers.standing.troubles = {{port::TroubleKind::MediaEmpty, "media-empty", false}};
  REQUIRE(must(send(office, printers)).job == 1);
}

TEST_CASE("Labels that a printer refuses after all are recorded and can be sent again") {
  OfficeAtWork office;
  must(app::set_printer(office.ports(), bench()));
  HandPrinters printers;
  printers.refuses = true;
  const auto sent = must(send(office, printers));
  REQUIRE_FALSE(sent.job);
  REQUIRE(sent.trouble);
  REQUIRE(sent.trouble->code == FailureCode::PrinterRefused);
  REQUIRE(runs_of(office) == 1);
  printers.refuses = false;
  const auto printer = must(app::find_printer(office.ports(), "Bench"));
  REQUIRE(must(app::send_paper(office.shop(), printers, printer, sent.printed.run, sent.pdf)) == 1);
  REQUIRE(printers.jobs.front().pdf == sent.pdf);
}

TEST_CASE("Every trouble and every state of a printer and of a job has its words") {
  for (const auto& term : core::Vocabulary<port::TroubleKind>::kTerms) {
    CAPTURE(term.text);
    REQUIRE(english().has("printer.trouble." + std::string{term.text}));
  }
  for (const auto& term : core::Vocabulary<port::PrinterActivity>::kTerms) {
    REQUIRE(english().has("printer.activity." + std::string{term.text}));
  }
  for (const auto& term : core::Vocabulary<port::JobState>::kTerms) {
    REQUIRE(english().has("printer.job." + std::string{term.text}));
  }
}

}  // namespace
}  // namespace loadlight::tests
