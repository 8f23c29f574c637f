// The loads of a period: a summary to begin a bound record with.
#pragma once

#include <string>
#include <vector>

#include "loadlight/report/document.h"
#include "loadlight/report/load_record.h"

namespace loadlight::report {

// What the summary says of one load.
struct PeriodLine final {
  std::string load, date, sterilizer, program, decision, biological, decided_by;
  std::size_t packages = 0;
  core::LoadState state = core::LoadState::Reserved;
};
PeriodLine period_line(const LoadRecordFacts& facts, const RecordNames& names, const Words& words);

struct PeriodFacts final {
  std::string office;
  core::CivilDate first = *core::CivilDate::from(1900, 1, 1);  // both days included
  core::CivilDate last = *core::CivilDate::from(1900, 1, 1);
  std::vector<PeriodLine> lines;
  core::Instant printed_at{};
};
Document period_summary(const PeriodFacts& facts, const RecordNames& names, const Words& words);

}  // namespace loadlight::report
