// Printed records as tables in exchange form: codes as the record keeps them, times in UTC, days as
// YYYY-MM-DD, lines ending in CRLF.
#pragma once

#include <string>

#include "loadlight/report/load_record.h"
#include "loadlight/report/recall_notice.h"

namespace loadlight::app {

// A line a package, in the order given: package, contents, load, process_date, use_by, disposition, location,
// opened_at, visit, called_back, why. An empty disposition: to be found.
std::string recall_csv(const report::RecallNoticeFacts& facts);

// A line a load.
std::string period_csv_header();
std::string period_csv_line(const report::LoadRecordFacts& facts);

}  // namespace loadlight::app
