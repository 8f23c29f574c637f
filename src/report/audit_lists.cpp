#include "report/audit_lists.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace loadlight::report {
namespace {

using core::AuditStatus;
using core::Outcome;

// Worst first.
int place_rank(AuditStatus status) {
  switch (status) {
    case AuditStatus::Unexpected:
      return 0;
    case AuditStatus::Misplaced:
      return 1;
    case AuditStatus::Present:
      return 2;
  }
  return 0;
}

template <class Entry, class Of>
std::vector<AtLocation<Entry>> by_location(const std::vector<Entry>& entries, Of location_of) {
  std::map<std::string, std::vector<Entry>> places;
  for (const Entry& entry : entries) places[location_of(entry)].push_back(entry);
  std::vector<AtLocation<Entry>> out;
  for (auto& [location, there] : places) out.push_back({location, std::move(there)});
  const auto named = [](const AtLocation<Entry>& place) { return !place.location.empty(); };
  std::stable_partition(out.begin(), out.end(), named);
  return out;
}

// What keeps for ever (no use-by day) comes after what does not.
template <class Dated>
auto age_of(const Dated& each) {
  return std::tie(each.process_date, each.use_by);
}
template <class Dated>
auto urgency_of(const Dated& each) {
  return std::tuple{each.use_by.empty(), each.use_by, each.process_date};
}

void count_row(const AuditRow& row, AuditCounts& counts) {
  counts.present += row.status == AuditStatus::Present;
  counts.misplaced += row.status == AuditStatus::Misplaced;
  counts.unexpected += row.status == AuditStatus::Unexpected;
  counts.clear += row.outcome == Outcome::Clear;
  counts.hold += row.outcome == Outcome::Hold;
  counts.do_not_use += row.outcome == Outcome::DoNotUse;
  counts.matched += row.how == core::SeenHow::Matched;
  counts.pull += is_to_pull(row);
}

}  // namespace

bool is_to_pull(const AuditRow& row) {
  return row.outcome != Outcome::Clear || row.status != AuditStatus::Present;
}

AuditCounts counts_of(const AuditFacts& facts) {
  AuditCounts counts;
  for (const AuditRow& row : facts.rows) count_row(row, counts);
  counts.near_use_by = to_use_first(facts).size();
  counts.not_seen = facts.missing.size();
  counts.unreadable = facts.unreadable.size() + static_cast<std::size_t>(facts.unreadable_beyond);
  return counts;
}

std::vector<AtLocation<NumberedRow>> to_pull(const AuditFacts& facts) {
  std::vector<NumberedRow> rows;
  for (const AuditRow& row : facts.rows) {
    if (is_to_pull(row)) rows.push_back({static_cast<std::size_t>(&row - facts.rows.data()) + 1, &row});
  }
  std::stable_sort(rows.begin(), rows.end(), [](const NumberedRow& a, const NumberedRow& b) {
    return std::tuple{-static_cast<int>(a.row->outcome), place_rank(a.row->status)} <
           std::tuple{-static_cast<int>(b.row->outcome), place_rank(b.row->status)};
  });
  return by_location(rows, [](const NumberedRow& each) { return each.row->seen_at; });
}

std::vector<NumberedRow> to_use_first(const AuditFacts& facts) {
  std::vector<NumberedRow> rows;
  for (const AuditRow& row : facts.rows) {
    if (!row.near_use_by || row.outcome != Outcome::Clear) continue;
    rows.push_back({static_cast<std::size_t>(&row - facts.rows.data()) + 1, &row});
  }
  std::stable_sort(rows.begin(), rows.end(), [](const NumberedRow& a, const NumberedRow& b) {
    return urgency_of(*a.row) < urgency_of(*b.row);
  });
  return rows;
}

std::vector<AtLocation<const AuditMissing*>> not_seen(const AuditFacts& facts) {
  std::vector<const AuditMissing*> missing;
  for (const AuditMissing& each : facts.missing) missing.push_back(&each);
  std::stable_sort(missing.begin(), missing.end(),
                   [](const AuditMissing* a, const AuditMissing* b) { return age_of(*a) < age_of(*b); });
  return by_location(missing, [](const AuditMissing* each) { return each->location; });
}

}  // namespace loadlight::report
