// Use case: labels made and sent straight to a label printer.
#pragma once

#include <optional>
#include <string>

#include "loadlight/app/change_labels.h"
#include "loadlight/app/office_printers.h"

namespace loadlight::app {

struct SentLabels final {
  PrintReply printed;
  std::string pdf;         // the same that was sent
  std::optional<int> job;  // its number at the printer
  // Why the printer did not take them: PrinterUnavailable, PrinterRefused. The labels are recorded all the same,
  // and can be sent or printed again, or voided.
  std::optional<core::Failure> trouble;
};

// What is printed on is the printer's stock. The printer is asked first: when it does not answer or takes no
// such jobs, that is the failure, and nothing is recorded. One that only lacks something, such as labels, is sent
// the job: it prints when that is mended.
core::Result<SentLabels> send_labels(const Ports& ports, const PrintShop& shop, const port::Printers& printers,
                                     const std::string& printer, PrintRequest request);
// As reprint_labels; the printer must hold the stock of that print run: BadValue (field "printer") else.
core::Result<SentLabels> send_again(const Ports& ports, const PrintShop& shop, const port::Printers& printers,
                                    const std::string& printer, const ReprintRequest& request);

// The PDF of a print run that no printer took yet: its job's number.
core::Result<int> send_paper(const PrintShop& shop, const port::Printers& printers, const OfficePrinter& printer,
                             const core::PrintRun& run, const std::string& pdf);

}  // namespace loadlight::app
