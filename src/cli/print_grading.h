// Estimates of print quality as answers: read --grade and stock trial.
#pragma once

#include <string>
#include <vector>

#include "cli/context.h"
#include "loadlight/app/stock_trial.h"
#include "loadlight/core/print_grade.h"

namespace loadlight::cli {

// {"overall":"B","grades":[{"parameter":…,"value":…,"grade":"B"},…],"module_pixels":…}
Json grades_json(const core::PrintMeasures& measures);

// A line: the estimate and what it is an estimate of.
std::string grades_text(const Context& context, const core::PrintMeasures& measures);

// The symbol of a picture that shows one label; NothingMeasured if it shows none or several, or the one cannot
// be measured.
core::Result<app::TrialPicture> measure_picture(const SeeingLeaves& seeing, const std::string& path);

}  // namespace loadlight::cli
