// How an audit's page looks: its style sheet, whole.
#pragma once

#include "report/html.h"

namespace loadlight::report {

extern const Markup kAuditPageStyle;

}  // namespace loadlight::report
