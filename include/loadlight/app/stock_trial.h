// Use case: does a label stock survive steam? The same label is measured before and after a cycle, and what
// the two pictures show is recorded for the stock.
#pragma once

#include <string>
#include <vector>

#include "loadlight/app/office_tables.h"
#include "loadlight/core/print_grade.h"

namespace loadlight::app {

// One picture of the sample label.
struct TrialPicture final {
  std::string text;  // of its symbol
  core::PrintMeasures measures;
};

struct StockTrialRequest final {
  std::string operator_code;
  std::string code;  // of the stock
  TrialPicture before;
  TrialPicture after;
};

struct StockTrialReply final {
  bool survives = false;
  std::vector<core::ParameterGrade> before;
  std::vector<core::ParameterGrade> after;
  Row stock;  // as it stands now: rated by this trial, or unrated when it did not survive
};

// A symbol that is read, with an estimate of at least kLeastAfterSteam and at most kMostLost below that before
// the cycle, survives. The lowest grade that makers of printers call sound is 2, a C: common practice.
inline constexpr int kLeastAfterSteam = 2;
inline constexpr int kMostLost = 1;

// BadValue (field "after") when the two pictures show different labels; else as rate_stock fails.
core::Result<StockTrialReply> try_stock(const Ports& ports, const StockTrialRequest& request);

}  // namespace loadlight::app
