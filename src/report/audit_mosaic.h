// The pictures of a sweep on the audit's page: each label outlined, numbered and linked to its row.
#pragma once

#include "loadlight/report/audit_report.h"
#include "report/html.h"

namespace loadlight::report {

// A small outline as a sign before an outcome's word.
void write_sign(Html& html, core::Outcome outcome);

void write_picture(Html& html, const AuditPicture& picture, const AuditFacts& facts, const Words& words);

}  // namespace loadlight::report
