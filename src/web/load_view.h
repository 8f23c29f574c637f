// How loads are shown, the same on every page.
#pragma once

#include <string>
#include <vector>

#include "loadlight/app/load_openings.h"
#include "loadlight/app/release_load.h"
#include "web/visit.h"

namespace loadlight::web {

// "4.5": at most two decimals, none that are zero.
std::string short_number(double value);

std::string state_word(const Visit& visit, core::LoadState state);
std::string purpose_word(const Visit& visit, core::LoadPurpose purpose);
// "Pouch program: 134 °C for 3 min, 20 min drying".
std::string program_words(const Visit& visit, const core::Program& program, const std::string& name = {});

// Where a load stands, as a row of steps: a list of "name", "done", "current".
View load_steps(const Visit& visit, core::LoadState state);

// One load as a line of a list: "name", "state", "state_code", "program", "purpose" (of a test), "started",
// "link".
View load_line(const Visit& visit, const port::Zone& zone, const core::Load& load);

// What was asked and what was found, line by line: "criterion", "measured", "asked", "standing",
// "standing_code", "source".
View criteria_view(const Visit& visit, const std::vector<core::CriterionResult>& criteria);

// All reasons, worst first, as they speak of a load: "code", "text", "action".
View load_reasons(const Visit& visit, const core::Verdict& verdict);
View load_notes(const Visit& visit, const core::Verdict& verdict);

}  // namespace loadlight::web
