#include "loadlight/report/audit_report.h"

namespace loadlight::report {
namespace {

// A column: its code, stable for scripts, and what each kind of line has there.
struct CodedColumn final {
  const char* heading;
  std::string (*seen)(const AuditRow&);
  std::string (*missing)(const AuditMissing&);
  std::string (*unreadable)(const AuditUnreadable&);
};

std::string joined(const std::vector<std::string>& parts) {
  std::string all;
  for (const std::string& part : parts) all += (all.empty() ? "" : " ") + part;
  return all;
}

template <class Entry>
std::string nothing(const Entry&) {
  return "";
}

constexpr CodedColumn kColumns[] = {
    {"line", [](const AuditRow&) -> std::string { return "package"; },
     [](const AuditMissing&) -> std::string { return "not-seen"; },
     [](const AuditUnreadable&) -> std::string { return "unreadable"; }},
    {"package", [](const AuditRow& r) { return r.package; }, [](const AuditMissing& m) { return m.package; },
     nothing<AuditUnreadable>},
    {"contents", [](const AuditRow& r) { return r.contents; },
     [](const AuditMissing& m) { return m.contents; }, nothing<AuditUnreadable>},
    {"load", [](const AuditRow& r) { return r.load; }, [](const AuditMissing& m) { return m.load; },
     nothing<AuditUnreadable>},
    {"process_date", [](const AuditRow& r) { return r.process_date; },
     [](const AuditMissing& m) { return m.process_date; }, nothing<AuditUnreadable>},
    {"use_by", [](const AuditRow& r) { return r.use_by; }, [](const AuditMissing& m) { return m.use_by; },
     nothing<AuditUnreadable>},
    {"outcome", [](const AuditRow& r) { return std::string{core::to_text(r.outcome)}; },
     nothing<AuditMissing>, nothing<AuditUnreadable>},
    {"reasons", [](const AuditRow& r) { return joined(r.reason_codes); }, nothing<AuditMissing>,
     nothing<AuditUnreadable>},
    {"status", [](const AuditRow& r) { return std::string{core::to_text(r.status)}; }, nothing<AuditMissing>,
     nothing<AuditUnreadable>},
    {"how", [](const AuditRow& r) { return std::string{core::to_text(r.how)}; }, nothing<AuditMissing>,
     nothing<AuditUnreadable>},
    {"near_use_by", [](const AuditRow& r) -> std::string { return r.near_use_by ? "yes" : "no"; },
     nothing<AuditMissing>, nothing<AuditUnreadable>},
    {"seen_at", [](const AuditRow& r) { return r.seen_at; }, nothing<AuditMissing>, nothing<AuditUnreadable>},
    {"expected_at", [](const AuditRow& r) { return r.expected_at; },
     [](const AuditMissing& m) { return m.location; }, nothing<AuditUnreadable>},
    {"sightings", [](const AuditRow& r) { return std::to_string(r.sightings); }, nothing<AuditMissing>,
     nothing<AuditUnreadable>},
    {"first_frame", [](const AuditRow& r) { return std::to_string(r.first_frame); }, nothing<AuditMissing>,
     [](const AuditUnreadable& u) { return std::to_string(u.frame); }},
    {"file", [](const AuditRow& r) { return r.file; }, nothing<AuditMissing>,
     [](const AuditUnreadable& u) { return u.file; }}};

template <class Entry, class Cell>
std::vector<std::string> line(const Entry& entry, Cell CodedColumn::*cell) {
  std::vector<std::string> cells;
  for (const CodedColumn& column : kColumns) cells.push_back((column.*cell)(entry));
  return cells;
}

}  // namespace

std::vector<std::vector<std::string>> audit_table(const AuditFacts& facts) {
  std::vector<std::vector<std::string>> lines(1);
  for (const CodedColumn& column : kColumns) lines.front().emplace_back(column.heading);
  for (const AuditRow& row : facts.rows) lines.push_back(line(row, &CodedColumn::seen));
  for (const AuditMissing& each : facts.missing) lines.push_back(line(each, &CodedColumn::missing));
  for (const AuditUnreadable& each : facts.unreadable) lines.push_back(line(each, &CodedColumn::unreadable));
  return lines;
}

}  // namespace loadlight::report
