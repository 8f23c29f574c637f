// Sample logs read as the program reads them.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/core/cycle_criteria.h"
#include "loadlight/exchange/cycle_log.h"

namespace loadlight::exchange {

std::string file_text(const std::string& path_in_repository);
LogMapping mapping_named(const std::string& name);  // of templates/mappings

struct ReadLog final {
  core::Result<LogSummary> summary;
  core::CycleFindings findings;
};
// Fed in chunks of `chunk` bytes.
ReadLog read_log(const LogMapping& mapping, std::string_view text, double programmed_celsius,
                 std::size_t chunk = 1000);

// The codes of the criteria that stand so, in the table's order, with a space between.
std::string standing(const std::vector<core::CriterionResult>& results, core::Standing standing);

}  // namespace loadlight::exchange
