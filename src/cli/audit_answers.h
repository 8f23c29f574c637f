// How an audit looks on the command line.
#pragma once

#include "cli/context.h"
#include "loadlight/app/audit_shelf.h"

namespace loadlight::cli {

// A line for each package seen, each that was not seen and each unreadable symbol.
void answer_audit(const Context& context, const app::AuditReply& reply);
// The counts, in one line.
void answer_audit_summary(const Context& context, const app::AuditReply& reply);
// For people, while the sweep goes on: a package that was just seen for the first time.
void tell_sighting(const Context& context, const app::AuditedPackage& package);
void tell_progress(const Context& context, const app::AuditProgress& progress);
void tell_hints(const Context& context, const app::AuditProgress& progress);

// Of the packages that were seen; Clear when none was.
core::Outcome worst_of(const app::AuditReply& reply);

}  // namespace loadlight::cli
