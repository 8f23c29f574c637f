// What an audit found as JSON lines, as `loadlight audit --json` gives them.
#pragma once

#include <string>

#include "loadlight/app/audit_shelf.h"
#include "loadlight/report/words.h"

namespace loadlight::web {

// A line a package, a line each that was not seen, a line an unreadable symbol, then the summary.
std::string audit_lines(const report::Words& words, const app::AuditReply& reply);

}  // namespace loadlight::web
