#include "app/export_fields.h"

#include <locale>
#include <sstream>

namespace loadlight::app {
namespace {

using port::Zone;

Cell cell_of(const std::string& text, const Zone&) {
  return {text};
}
Cell cell_of(int number, const Zone&) {
  return {std::to_string(number)};
}
Cell cell_of(bool value, const Zone&) {
  return {value ? "yes" : "no"};
}
Cell cell_of(double number, const Zone&) {
  std::ostringstream text;
  text.imbue(std::locale::classic());
  text << number;
  return {text.str()};
}
Cell cell_of(core::Instant at, const Zone& zone) {
  return {core::to_text(at), zone.local_date(at)};
}
Cell cell_of(core::CivilDate day, const Zone&) {
  return {day.iso(), day};
}
Cell cell_of(const core::LoadName& load, const Zone&) {
  return {load.text()};
}
Cell cell_of(const core::PackageId& id, const Zone&) {
  return {id.text()};
}
Cell cell_of(const std::vector<core::LooseItems>& items, const Zone&) {
  std::string text;
  for (const core::LooseItems& each : items) {
    text += (text.empty() ? "" : " ") + each.contents + ":" + std::to_string(each.count);
  }
  return {text};
}
template <class E>
requires requires {
  core::Vocabulary<E>::kTerms;
}
Cell cell_of(E value, const Zone&) {
  return {std::string{core::to_text(value)}};
}
template <class T>
Cell cell_of(const std::optional<T>& value, const Zone& zone) {
  return value ? cell_of(*value, zone) : Cell{};
}

std::string detail_of(const DecisionRow& row, std::string_view name) {
  for (const auto& [key, value] : row.event.details) {
    if (key == name) return value;
  }
  return {};
}

template <class Part>
std::optional<double> part_of(const std::optional<Part>& whole, double Part::*member) {
  return whole ? std::optional{(*whole).*member} : std::nullopt;
}

// A field, by what stands in it: `r` is the record.
#define FIELD(expression) [](const auto& r, const Zone& zone) { return cell_of(expression, zone); }

constexpr Gives A = Gives::AsIs;
constexpr Gives P = Gives::Pseudonym;
constexpr Gives M = Gives::Month;
constexpr Gives O = Gives::Out;
constexpr Alias kPlain = Alias::None;

// A row a field: its name, what stands in it, what inspector, technician and research get of it, whose pseudonym
// that is, and why somebody gets less than all.

constexpr ExportField<core::Office> kOffice[] = {
    {"name", FIELD(r.name), A, A, P, Alias::Office, "names-the-office"},
    {"zone", FIELD(r.zone), A, A, O, kPlain, "names-the-office"},
    {"profile", FIELD(r.profile), A, O, A, kPlain, "not-the-machine"},
    {"shelf_life_days", FIELD(r.shelf_life_days), A, O, A, kPlain, "not-the-machine"},
    {"made_at", FIELD(r.made_at), A, O, M, kPlain, "time-tells-who"},
};
constexpr ExportField<core::Operator> kOperators[] = {
    {"code", FIELD(r.code), A, O, P, Alias::Operator, "names-people"},
    {"name", FIELD(r.name), O, O, O, kPlain, "names-people"},
    {"role", FIELD(r.role), A, O, A, kPlain, "not-the-machine"},
    {"first_day", FIELD(r.first_day), A, O, O, kPlain, "names-people"},
    {"last_day", FIELD(r.last_day), A, O, O, kPlain, "names-people"},
};
constexpr ExportField<core::Sterilizer> kSterilizers[] = {
    {"code", FIELD(r.code), A, A, P, Alias::Sterilizer, "names-the-office"},
    {"name", FIELD(r.name), A, A, O, kPlain, "typed"},
    {"removal", FIELD(r.removal), A, A, A, kPlain, ""},
    {"type", FIELD(r.type), A, A, A, kPlain, ""},
    {"in_service", FIELD(r.in_service), A, A, A, kPlain, ""},
    {"retired_on", FIELD(r.retired_on), A, A, M, kPlain, "time-tells-who"},
};
constexpr ExportField<core::OfficeProgram> kPrograms[] = {
    {"code", FIELD(r.code), A, A, P, Alias::Program, "typed"},
    {"name", FIELD(r.name), A, A, O, kPlain, "typed"},
    {"sterilizer", FIELD(r.sterilizer), A, A, P, Alias::Sterilizer, "names-the-office"},
    {"load_kind", FIELD(r.load_kind), A, A, A, kPlain, ""},
    {"celsius", FIELD(r.celsius), A, A, A, kPlain, ""},
    {"exposure_minutes", FIELD(r.exposure_minutes), A, A, A, kPlain, ""},
    {"drying_minutes", FIELD(r.drying_minutes), A, A, A, kPlain, ""},
    {"document", FIELD(r.document), A, A, O, kPlain, "typed"},
    {"page", FIELD(r.page), A, A, O, kPlain, "typed"},
    {"entered_by", FIELD(r.entered_by), A, O, P, Alias::Operator, "names-people"},
    {"entered_at", FIELD(r.entered_at), A, A, M, kPlain, "time-tells-who"},
    {"accepted_by", FIELD(r.accepted_by), A, O, P, Alias::Operator, "names-people"},
    {"retired_on", FIELD(r.retired_on), A, A, M, kPlain, "time-tells-who"},
};
constexpr ExportField<core::Contents> kContents[] = {
    {"code", FIELD(r.code), A, O, O, kPlain, "not-the-machine"},
    {"name", FIELD(r.name), A, O, O, kPlain, "not-the-machine"},
    {"implant", FIELD(r.implant), A, O, O, kPlain, "not-the-machine"},
    {"retired_on", FIELD(r.retired_on), A, O, O, kPlain, "not-the-machine"},
};
constexpr ExportField<core::PackageKind> kKinds[] = {
    {"code", FIELD(r.code), A, O, O, kPlain, "not-the-machine"},
    {"name", FIELD(r.name), A, O, O, kPlain, "not-the-machine"},
    {"wrapping", FIELD(r.wrapping), A, O, O, kPlain, "not-the-machine"},
    {"retired_on", FIELD(r.retired_on), A, O, O, kPlain, "not-the-machine"},
};
constexpr ExportField<core::Load> kLoads[] = {
    {"load", FIELD(r.name), A, A, P, Alias::Load, "names-the-office"},
    {"sterilizer", FIELD(r.name.sterilizer), A, A, P, Alias::Sterilizer, "names-the-office"},
    {"state", FIELD(r.state), A, A, A, kPlain, ""},
    {"program", FIELD(r.program), A, A, P, Alias::Program, "typed"},
    {"purpose", FIELD(r.purpose), A, A, A, kPlain, ""},
    {"loose_items", FIELD(r.loose_items), A, O, O, kPlain, "not-the-machine"},
    {"opened_at", FIELD(r.opened_at), A, O, O, kPlain, "time-tells-who"},
    {"started_at", FIELD(r.started_at), A, A, O, kPlain, "time-tells-who"},
    {"run", FIELD(r.run), A, A, A, kPlain, ""},
    {"process_date", FIELD(r.process_date), A, A, M, kPlain, "time-tells-who"},
    {"finished_at", FIELD(r.finished_at), A, A, O, kPlain, "time-tells-who"},
    {"machine_counter", FIELD(r.machine_counter), A, A, O, kPlain, "names-the-office"},
    {"abort_reason", FIELD(r.abort_reason), A, A, O, kPlain, "typed"},
    {"low_celsius", FIELD(part_of(r.readings, &core::Readings::low_celsius)), A, A, A, kPlain, ""},
    {"high_celsius", FIELD(part_of(r.readings, &core::Readings::high_celsius)), A, A, A, kPlain, ""},
    {"minutes", FIELD(part_of(r.readings, &core::Readings::minutes)), A, A, A, kPlain, ""},
    {"pressure_kpa", FIELD(part_of(r.readings, &core::Readings::pressure_kpa)), A, A, A, kPlain, ""},
    {"drying_minutes", FIELD(r.readings ? r.readings->drying_minutes : std::nullopt), A, A, A, kPlain, ""},
    {"cycle_log", FIELD(r.cycle_log), A, A, A, kPlain, ""},
    {"leak_kpa_per_minute", FIELD(part_of(r.leak, &core::LeakTest::kpa_per_minute)), A, A, A, kPlain, ""},
    {"leak_passed", FIELD(r.leak ? std::optional{r.leak->passed} : std::nullopt), A, A, A, kPlain, ""},
    {"retest_of", FIELD(r.retest_of), A, O, O, kPlain, "not-the-machine"},
    {"decided_at", FIELD(r.decided_at), A, O, M, kPlain, "time-tells-who"},
    {"decided_by", FIELD(r.decided_by), A, O, P, Alias::Operator, "names-people"},
    {"emergency_reason", FIELD(r.emergency_reason), A, O, O, kPlain, "typed"},
    {"emergency_second", FIELD(r.emergency_second), A, O, P, Alias::Operator, "names-people"},
    {"implant_aboard", FIELD(r.implant_aboard), A, O, A, kPlain, "not-the-machine"},
};
constexpr ExportField<DecisionRow> kDecisions[] = {
    {"load", FIELD(r.load), A, O, P, Alias::Load, "names-the-office"},
    {"event", FIELD(r.kind), A, O, A, kPlain, "not-the-machine"},
    {"at", FIELD(r.event.at), A, O, M, kPlain, "time-tells-who"},
    {"operator", FIELD(r.event.operator_code), A, O, P, Alias::Operator, "names-people"},
    {"outcome", FIELD(detail_of(r, "outcome")), A, O, A, kPlain, "not-the-machine"},
    {"reasons", FIELD(detail_of(r, "reasons")), A, O, A, kPlain, "not-the-machine"},
    {"profile", FIELD(detail_of(r, "profile")), A, O, A, kPlain, "not-the-machine"},
    {"why", FIELD(detail_of(r, "why")), A, O, O, kPlain, "typed"},
};
constexpr ExportField<core::IndicatorReading> kIndicators[] = {
    {"number", FIELD(r.number), A, O, O, kPlain, "not-needed"},
    {"load", FIELD(r.load), A, A, P, Alias::Load, "names-the-office"},
    {"place", FIELD(r.place), A, A, A, kPlain, ""},
    {"type", FIELD(r.type), A, A, A, kPlain, ""},
    {"lot", FIELD(r.lot), A, O, O, kPlain, "typed"},
    {"expires", FIELD(r.expires), A, O, M, kPlain, "time-tells-who"},
    {"passed", FIELD(r.passed), A, A, A, kPlain, ""},
    {"package", FIELD(r.package), A, O, O, kPlain, "names-a-package"},
    {"read_by", FIELD(r.read_by), A, O, P, Alias::Operator, "names-people"},
    {"read_at", FIELD(r.read_at), A, O, M, kPlain, "time-tells-who"},
    {"stated_celsius", FIELD(r.stated_celsius), A, A, A, kPlain, ""},
    {"stated_minutes", FIELD(r.stated_minutes), A, A, A, kPlain, ""},
    {"why", FIELD(r.why), A, O, O, kPlain, "typed"},
};
constexpr ExportField<core::BiologicalRun> kRuns[] = {
    {"number", FIELD(r.number), A, O, A, kPlain, "not-the-machine"},
    {"load", FIELD(r.load), A, O, P, Alias::Load, "names-the-office"},
    {"lot", FIELD(r.lot), A, O, O, kPlain, "typed"},
    {"control_lot", FIELD(r.control_lot), A, O, O, kPlain, "typed"},
    {"expires", FIELD(r.expires), A, O, M, kPlain, "time-tells-who"},
    {"reader", FIELD(r.reader), A, O, A, kPlain, "not-the-machine"},
    {"service", FIELD(r.service), A, O, O, kPlain, "typed"},
    {"placed_by", FIELD(r.placed_by), A, O, P, Alias::Operator, "names-people"},
    {"placed_at", FIELD(r.placed_at), A, O, M, kPlain, "time-tells-who"},
    {"incubated_at", FIELD(r.incubated_at), A, O, M, kPlain, "time-tells-who"},
    {"sent_on", FIELD(r.sent_on), A, O, M, kPlain, "time-tells-who"},
    {"due_at", FIELD(r.due_at), A, O, O, kPlain, "time-tells-who"},
};
constexpr ExportField<core::BiologicalReading> kBiologicals[] = {
    {"number", FIELD(r.number), A, O, O, kPlain, "not-needed"},
    {"load", FIELD(r.load), A, O, P, Alias::Load, "names-the-office"},
    {"of_run", FIELD(r.of_run), A, O, A, kPlain, "not-the-machine"},
    {"lot", FIELD(r.lot), A, O, O, kPlain, "typed"},
    {"test", FIELD(r.test), A, O, A, kPlain, "not-the-machine"},
    {"control", FIELD(r.control), A, O, A, kPlain, "not-the-machine"},
    {"control_lot", FIELD(r.control_lot), A, O, O, kPlain, "typed"},
    {"read_by", FIELD(r.read_by), A, O, P, Alias::Operator, "names-people"},
    {"read_at", FIELD(r.read_at), A, O, M, kPlain, "time-tells-who"},
    {"received_on", FIELD(r.received_on), A, O, M, kPlain, "time-tells-who"},
    {"reported_on", FIELD(r.reported_on), A, O, M, kPlain, "time-tells-who"},
    {"report_file", FIELD(r.report_file), A, O, O, kPlain, "typed"},
    {"why", FIELD(r.why), A, O, O, kPlain, "typed"},
};
constexpr ExportField<core::CycleLog> kLogs[] = {
    {"number", FIELD(r.number), A, A, A, kPlain, ""},
    {"load", FIELD(r.load), A, A, P, Alias::Load, "names-the-office"},
    {"file", FIELD(r.file), A, A, O, kPlain, "typed"},
    {"mapping", FIELD(r.mapping), A, A, O, kPlain, "typed"},
    {"findings", FIELD(r.findings), A, A, A, kPlain, ""},
    {"curve", FIELD(r.curve), A, A, A, kPlain, ""},
    {"read_by", FIELD(r.read_by), A, O, P, Alias::Operator, "names-people"},
    {"read_at", FIELD(r.read_at), A, A, M, kPlain, "time-tells-who"},
    {"why", FIELD(r.why), A, O, O, kPlain, "typed"},
};
constexpr ExportField<core::ServiceEntry> kServices[] = {
    {"number", FIELD(r.number), A, A, O, kPlain, "not-needed"},
    {"sterilizer", FIELD(r.sterilizer), A, A, P, Alias::Sterilizer, "names-the-office"},
    {"kind", FIELD(r.kind), A, A, A, kPlain, ""},
    {"note", FIELD(r.note), A, A, O, kPlain, "typed"},
    {"counter_reset", FIELD(r.counter_reset), A, A, A, kPlain, ""},
    {"next_due", FIELD(r.next_due), A, A, M, kPlain, "time-tells-who"},
    {"done_by", FIELD(r.done_by), A, O, P, Alias::Operator, "names-people"},
    {"done_at", FIELD(r.done_at), A, A, M, kPlain, "time-tells-who"},
};
constexpr ExportField<core::Incident> kIncidents[] = {
    {"number", FIELD(r.number), A, O, O, kPlain, "not-needed"},
    {"cause", FIELD(r.cause), A, O, O, kPlain, "not-needed"},
    {"state", FIELD(r.state), A, O, O, kPlain, "not-needed"},
    {"load", FIELD(r.load()), A, O, O, kPlain, "not-needed"},
    {"first_run", FIELD(r.first_run), A, O, O, kPlain, "not-needed"},
    {"last_run", FIELD(r.last_run), A, O, O, kPlain, "not-needed"},
    {"program", FIELD(r.program), A, O, O, kPlain, "not-needed"},
    {"procedure", FIELD(r.procedure), A, O, O, kPlain, "not-needed"},
    {"profile", FIELD(r.profile), A, O, O, kPlain, "not-needed"},
    {"recall", FIELD(r.recall), A, O, O, kPlain, "not-needed"},
    {"sterilizer_held", FIELD(r.sterilizer_held), A, O, O, kPlain, "not-needed"},
    {"narrowed_why", FIELD(r.narrowed_why), A, O, O, kPlain, "not-needed"},
    {"opened_by", FIELD(r.opened_by), A, O, O, kPlain, "not-needed"},
    {"opened_at", FIELD(r.opened_at), A, O, O, kPlain, "not-needed"},
    {"closed_by", FIELD(r.closed_by), A, O, O, kPlain, "not-needed"},
    {"closed_at", FIELD(r.closed_at), A, O, O, kPlain, "not-needed"},
    {"note", FIELD(r.note), A, O, O, kPlain, "not-needed"},
};
constexpr ExportField<core::IncidentStep> kSteps[] = {
    {"number", FIELD(r.number), A, O, O, kPlain, "not-needed"},
    {"incident", FIELD(r.incident), A, O, O, kPlain, "not-needed"},
    {"step", FIELD(r.step), A, O, O, kPlain, "not-needed"},
    {"finding", FIELD(r.finding), A, O, O, kPlain, "not-needed"},
    {"note", FIELD(r.note), A, O, O, kPlain, "not-needed"},
    {"done_by", FIELD(r.done_by), A, O, O, kPlain, "not-needed"},
    {"done_at", FIELD(r.done_at), A, O, O, kPlain, "not-needed"},
};
constexpr ExportField<core::Accounting> kAccountings[] = {
    {"incident", FIELD(r.incident), A, O, O, kPlain, "not-needed"},
    {"package", FIELD(r.package), A, O, O, kPlain, "names-a-package"},
    {"disposition", FIELD(r.disposition), A, O, O, kPlain, "not-needed"},
    {"why", FIELD(r.why), A, O, O, kPlain, "not-needed"},
    {"accounted_by", FIELD(r.accounted_by), A, O, O, kPlain, "not-needed"},
    {"accounted_at", FIELD(r.accounted_at), A, O, O, kPlain, "not-needed"},
};
constexpr ExportField<PackageRow> kPackages[] = {
    {"package", FIELD(r.package.id), A, O, O, kPlain, "names-a-package"},
    {"load", FIELD(r.package.load), A, O, O, kPlain, "names-a-package"},
    {"contents", FIELD(r.package.contents), A, O, O, kPlain, "names-a-package"},
    {"kind", FIELD(r.package.kind), A, O, O, kPlain, "names-a-package"},
    {"process_date", FIELD(r.package.process_date), A, O, O, kPlain, "names-a-package"},
    {"use_by", FIELD(r.package.use_by), A, O, O, kPlain, "names-a-package"},
    {"packed_by", FIELD(r.package.operator_code), A, O, O, kPlain, "names-a-package"},
    {"printed_at", FIELD(r.package.printed_at), A, O, O, kPlain, "names-a-package"},
    {"payload", FIELD(r.package.payload), O, O, O, kPlain, "signed"},
    {"chart_payload", FIELD(r.package.chart_payload), O, O, O, kPlain, "signed"},
    {"state", FIELD(r.package.state), A, O, O, kPlain, "names-a-package"},
    {"recalled", FIELD(r.package.recalled), A, O, O, kPlain, "names-a-package"},
    {"replaced_by", FIELD(r.package.replaced_by), A, O, O, kPlain, "names-a-package"},
    {"location", FIELD(r.package.location), O, O, O, kPlain, "tells-where"},
    {"withdrawn_because", FIELD(r.package.withdrawn_because), A, O, O, kPlain, "names-a-package"},
    {"opened_at", FIELD(r.package.opened_at), A, O, O, kPlain, "names-a-package"},
    {"opened_by", FIELD(r.opened_by), A, O, O, kPlain, "names-a-package"},
    {"visit", FIELD(r.package.visit), O, O, O, kPlain, "leads-to-a-patient"},
    {"internal_indicator", FIELD(r.package.internal_indicator), A, O, O, kPlain, "names-a-package"},
};
#undef FIELD

}  // namespace

#define TABLE(Record, name, fields)                      \
  template <>                                            \
  const ExportTable<Record>& export_table() {            \
    static const ExportTable<Record> table{name, fields}; \
    return table;                                        \
  }
TABLE(core::Office, "office", kOffice)
TABLE(core::Operator, "operators", kOperators)
TABLE(core::Sterilizer, "sterilizers", kSterilizers)
TABLE(core::OfficeProgram, "programs", kPrograms)
TABLE(core::Contents, "contents", kContents)
TABLE(core::PackageKind, "kinds", kKinds)
TABLE(core::Load, "loads", kLoads)
TABLE(DecisionRow, "decisions", kDecisions)
TABLE(core::IndicatorReading, "indicators", kIndicators)
TABLE(core::BiologicalRun, "biological-runs", kRuns)
TABLE(core::BiologicalReading, "biological-results", kBiologicals)
TABLE(core::CycleLog, "cycle-logs", kLogs)
TABLE(core::ServiceEntry, "services", kServices)
TABLE(core::Incident, "incidents", kIncidents)
TABLE(core::IncidentStep, "incident-steps", kSteps)
TABLE(core::Accounting, "accountings", kAccountings)
TABLE(PackageRow, "packages", kPackages)
#undef TABLE

}  // namespace loadlight::app
