// An invented audit for the tests of what is printed.
#pragma once

#include "loadlight/report/audit_report.h"

namespace loadlight::tests {

// 40 packages of every outcome and status, 5 not seen at two locations, 3 unreadable symbols without pictures.
report::AuditFacts sample_audit();

}  // namespace loadlight::tests
