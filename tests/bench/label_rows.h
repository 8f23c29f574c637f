// Rows about single labels: what was asked of them, and how they come out.
#pragma once

#include <cstdint>
#include <string>

#include "bench/score.h"

namespace loadlight::bench {

// How many labels a row draws and from which seed on; seeds from kReportingSeed on are kept for reports and
// were never used to tune a reader or the model.
inline constexpr std::uint64_t kReportingSeed = 900000;
struct Draw final {
  int labels = 300;
  std::uint64_t seed = kReportingSeed;
  std::string only;  // the one row to run; empty for all
};

// Every goal for single labels and bursts, as a Markdown table.
void print_label_goals(const Draw& draw);

// The peers beside the figures the model has to reproduce; true if every row is within its tolerance.
bool print_validity(const Draw& draw);

// Wrong texts among `frames` pictures without labels and draw.labels labels.
void print_wrong_texts(const Draw& draw, int frames);

}  // namespace loadlight::bench
