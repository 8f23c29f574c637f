#include "loadlight/app/list_audits.h"

#include <algorithm>
#include <charconv>
#include <set>

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Result;

std::string detail_of(const port::PastEvent& event, std::string_view name) {
  for (const auto& [key, value] : event.details) {
    if (key == name) return value;
  }
  return "";
}

int count_in(const port::PastEvent& event, std::string_view name) {
  const std::string text = detail_of(event, name);
  int number = 0;
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

Result<void> add_begun_at(const port::Unit& unit, const std::string& location, std::vector<PastAudit>& audits) {
  const auto begun = unit.events_about(location, EventKind::AuditBegun);
  if (!begun) return begun.failure();
  for (const port::PastEvent& event : *begun) {
    PastAudit audit;
    audit.audit = detail_of(event, "audit");
    audit.location = location;
    audit.source = detail_of(event, "source");
    audit.begun_by = event.operator_code;
    audit.begun_at = event.at;
    audits.push_back(std::move(audit));
  }
  return {};
}

Result<void> add_end(const port::Unit& unit, PastAudit& audit) {
  const auto ended = unit.events_about(audit.audit, EventKind::AuditEnded);
  if (!ended) return ended.failure();
  if (ended->empty()) return {};
  const port::PastEvent& event = ended->back();
  audit.ended_at = event.at;
  audit.packages = count_in(event, "packages");
  audit.not_seen = count_in(event, "not_seen");
  audit.unreadable = count_in(event, "unreadable");
  return {};
}

}  // namespace

Result<std::vector<PastAudit>> newest_audits(const Ports& ports, std::size_t most) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto locations = (*unit)->locations().all();
  if (!locations) return locations.failure();
  std::vector<PastAudit> audits;
  for (const core::Location& location : *locations) {
    if (const auto added = add_begun_at(**unit, location.code, audits); !added) return added.failure();
  }
  // Two that begin in one moment: the later number first.
  std::reverse(audits.begin(), audits.end());
  std::stable_sort(audits.begin(), audits.end(),
                   [](const PastAudit& one, const PastAudit& other) { return one.begun_at > other.begun_at; });
  if (audits.size() > most) audits.resize(most);
  std::set<std::pair<std::string, std::string>> resumable;
  for (PastAudit& audit : audits) {
    if (const auto added = add_end(**unit, audit); !added) return added.failure();
    audit.to_be_resumed = !audit.ended_at && resumable.emplace(audit.location, audit.source).second;
  }
  return audits;
}

}  // namespace loadlight::app
