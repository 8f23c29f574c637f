// What an audit found, sorted into the lists that people work with; paper and page show the same.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "loadlight/report/audit_report.h"

namespace loadlight::report {

struct AuditCounts final {
  std::size_t present = 0, misplaced = 0, unexpected = 0, not_seen = 0, unreadable = 0;
  std::size_t clear = 0, hold = 0, do_not_use = 0;
  std::size_t near_use_by = 0, pull = 0, matched = 0;
};
AuditCounts counts_of(const AuditFacts& facts);

// A row with the number it has in the full list, from 1.
struct NumberedRow final {
  std::size_t number = 0;
  const AuditRow* row = nullptr;
};

template <class Entry>
struct AtLocation final {
  std::string location;  // name; empty: none on record
  std::vector<Entry> entries;
};

// Not clear, or not where it belongs.
bool is_to_pull(const AuditRow& row);

// Locations by name; within each worst first, then what is expected nowhere, then what belongs elsewhere.
std::vector<AtLocation<NumberedRow>> to_pull(const AuditFacts& facts);
// Clear and near their use-by day, oldest first.
std::vector<NumberedRow> to_use_first(const AuditFacts& facts);
// Locations by name; within each oldest first.
std::vector<AtLocation<const AuditMissing*>> not_seen(const AuditFacts& facts);

}  // namespace loadlight::report
