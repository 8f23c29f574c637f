// Invented loads and incidents for the tests of what is printed.
#pragma once

#include "loadlight/report/load_record.h"
#include "loadlight/report/period_record.h"
#include "loadlight/report/recall_notice.h"

namespace loadlight::tests {

report::RecordNames sample_names();
// A released load of `packages` packages with a cycle log of a prevacuum program at 134 degrees.
report::LoadRecordFacts sample_record(int number = 204, int packages = 24);
// A log in which the exposure is short.
report::LoadRecordFacts failed_record();
// `packages` suspects on two shelves, some opened, one not found.
report::RecallNoticeFacts sample_recall(int packages = 40);

core::CycleFindings sample_cycle(int hold_seconds);

}  // namespace loadlight::tests
