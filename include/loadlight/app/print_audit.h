// Use cases: what an audit found, as paper to walk the shelves with, as a page for a browser, and as a table.
#pragma once

#include <string>

#include "loadlight/app/audit_shelf.h"
#include "loadlight/app/ports.h"
#include "loadlight/app/print_record.h"
#include "loadlight/report/audit_report.h"

namespace loadlight::app {

// The reply in words, with the names that the record has for its codes. Failures are the store's.
core::Result<report::AuditFacts> audit_on_paper(const Ports& ports, const report::Words& words,
                                                const AuditReply& reply);

// The PDF; fails as the press does.
core::Result<std::string> audit_pdf(const PageShop& shop, const report::AuditFacts& facts,
                                    core::Instant made);

// The table in exchange form (exchange/csv.h).
std::string audit_csv(const report::AuditFacts& facts);

}  // namespace loadlight::app
