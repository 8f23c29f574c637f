// Use case: labels for packages that are about to be packed. Each gets its id and its place in the
// record; both exist only when the PDF was made.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/core/packing_steps.h"

namespace loadlight::app {

// How and where to print.
struct Paper final {
  std::optional<std::string> template_name;  // none: by the stock's print method
  std::optional<std::string> stock;          // none: the first rated stock in use
  int first_cell = 1;                        // from 1
  double nudge_x = 0;                        // millimetres, right is positive
  double nudge_y = 0;                        // millimetres, down is positive
  std::string out;                           // the PDF's path
};

struct PrintRequest final {
  std::string operator_code;
  std::string contents;
  int count = 1;  // 1 to 500, both included
  core::LoadName load;
  std::string kind;
  std::optional<core::CivilDate> process_date;  // none: today; not earlier than today
  bool packed = false;  // the packing steps were shown and acknowledged
  Paper paper;
};

struct PrintReply final {
  std::vector<core::Package> packages;
  std::vector<label::LayoutWarning> warnings;
  core::PrintRun run;
};

// Refusals: PackingNotAcknowledged (its items are the steps), StockDirectThermal, StockUnrated,
// KindTakesNoLabel, LoadNumberOutOfSequence, LoadWrongState, CodeUnknown, CodeRetired, and what layout and
// press say. Nothing is recorded then.
core::Result<PrintReply> print_labels(const Ports& ports, const PrintShop& shop, const PrintRequest& request);

// The packing steps for what a request is about to pack.
core::Result<std::vector<core::PackingStep>> steps_for(const Ports& ports, const std::string& contents,
                                                       const std::string& kind);

}  // namespace loadlight::app
