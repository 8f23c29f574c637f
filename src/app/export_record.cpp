#include "loadlight/app/export_record.h"

#include <algorithm>

#include "app/export_tables.h"
#include "loadlight/app/act.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Result;

constexpr EventKind kDecisions[] = {EventKind::LoadReleased,   EventKind::LoadQuarantined, EventKind::LoadFailed,
                                    EventKind::ReleaseRevoked, EventKind::LoadRecalled,    EventKind::LoadAborted};

Result<core::CivilDate> lead_day(const Ports& ports, std::string_view operator_code) {
  const auto act = begin_act(ports, operator_code);
  if (!act) return act.failure();
  if (const auto lead = require_lead(act->who); !lead) return lead.failure();
  return act->today;
}

// Reads the record into the tables of one export.
class Exporting final {
 public:
  Exporting(const Ports& ports, const port::Unit& unit, const report::Words& words, const ExportRequest& request)
      : ports_(ports), unit_(unit), words_(words), request_(request), tables_(request.reader, ports) {}

  Result<void> run();
  int loads() const { return loads_; }
  std::vector<exchange::ArchivedFile> take(const std::string& introduction) { return tables_.take(introduction); }

 private:
  bool is_in(core::CivilDate day) const { return request_.first <= day && day <= request_.last; }
  bool is_in(core::Instant at) const { return is_in(ports_.zone.local_date(at)); }
  template <class Record>
  Result<void> add_all(const Result<std::vector<Record>>& records);
  Result<void> add_office();
  Result<void> add_upkeep();
  Result<void> add_loads();
  Result<void> add_load(const core::Load& load);
  Result<void> add_packages(const core::LoadName& load);
  Result<void> add_incidents();

  const Ports& ports_;
  const port::Unit& unit_;
  const report::Words& words_;
  const ExportRequest& request_;
  ExportTables tables_;
  int loads_ = 0;
};

template <class Record>
Result<void> Exporting::add_all(const Result<std::vector<Record>>& records) {
  if (!records) return records.failure();
  for (const Record& record : *records) tables_.add(record);
  return {};
}

Result<void> Exporting::run() {
  for (const auto step : {&Exporting::add_office, &Exporting::add_upkeep, &Exporting::add_loads,
                          &Exporting::add_incidents}) {
    if (auto done = (this->*step)(); !done) return done;
  }
  return {};
}

Result<void> Exporting::add_office() {
  tables_.begin<core::Office>(words_);
  tables_.begin<core::Operator>(words_);
  tables_.begin<core::Sterilizer>(words_);
  tables_.begin<core::OfficeProgram>(words_);
  tables_.begin<core::Contents>(words_);
  tables_.begin<core::PackageKind>(words_);
  const auto office = unit_.office();
  if (!office) return office.failure();
  tables_.add(*office);
  for (const auto& done : {add_all(unit_.operators().all()), add_all(unit_.sterilizers().all()),
                           add_all(unit_.programs().all()), add_all(unit_.contents().all()),
                           add_all(unit_.kinds().all())}) {
    if (!done) return done;
  }
  return {};
}

Result<void> Exporting::add_upkeep() {
  tables_.begin<core::ServiceEntry>(words_);
  const auto sterilizers = unit_.sterilizers().all();
  if (!sterilizers) return sterilizers.failure();
  for (const core::Sterilizer& sterilizer : *sterilizers) {
    const auto services = unit_.services().of_sterilizer(sterilizer.code);
    if (!services) return services.failure();
    for (const core::ServiceEntry& service : *services) {
      if (is_in(service.done_at)) tables_.add(service);
    }
  }
  return {};
}

// Names alone: the loads of years are read one after another.
Result<void> Exporting::add_loads() {
  tables_.begin<core::Load>(words_);
  tables_.begin<DecisionRow>(words_);
  tables_.begin<core::IndicatorReading>(words_);
  tables_.begin<core::BiologicalRun>(words_);
  tables_.begin<core::BiologicalReading>(words_);
  tables_.begin<core::CycleLog>(words_);
  tables_.begin<PackageRow>(words_);
  std::vector<core::LoadName> names;
  const auto found = unit_.loads().of_days(request_.first, request_.last,
                                           [&](const core::Load& load) { names.push_back(load.name); });
  if (!found) return found.failure();
  for (const core::LoadName& name : names) {
    const auto load = unit_.loads().find(name);
    if (!load) return load.failure();
    if (!*load) return Failure{FailureCode::RecordDamaged, {{"what", name.text()}}, {}};
    if (auto done = add_load(**load); !done) return done;
  }
  return {};
}

Result<void> Exporting::add_load(const core::Load& load) {
  ++loads_;
  tables_.add(load);
  for (const EventKind kind : kDecisions) {
    const auto events = unit_.events_about(load.name.text(), kind);
    if (!events) return events.failure();
    for (const port::PastEvent& event : *events) tables_.add(DecisionRow{load.name, kind, event});
  }
  const auto& evidence = unit_.evidence();
  for (const auto& done : {add_all(evidence.indicators_of(load.name)), add_all(evidence.runs_of(load.name)),
                           add_all(evidence.biologicals_of(load.name))}) {
    if (!done) return done;
  }
  if (load.cycle_log) {
    const auto log = evidence.find_log(*load.cycle_log);
    if (!log) return log.failure();
    if (*log) tables_.add(**log);
  }
  return add_packages(load.name);
}

Result<void> Exporting::add_packages(const core::LoadName& load) {
  if (request_.reader != ExportReader::Inspector) return {};
  const auto packages = unit_.packages().of_load(load);
  if (!packages) return packages.failure();
  for (const core::Package& package : *packages) {
    PackageRow row{package, {}};
    if (package.opened_at) {
      const auto events = unit_.events_about(package.id.text(), EventKind::PackageOpened);
      if (!events) return events.failure();
      if (!events->empty()) row.opened_by = events->back().operator_code;
    }
    tables_.add(row);
  }
  return {};
}

Result<void> Exporting::add_incidents() {
  tables_.begin<core::Incident>(words_);
  tables_.begin<core::IncidentStep>(words_);
  tables_.begin<core::Accounting>(words_);
  const auto incidents = unit_.incidents().all();
  if (!incidents) return incidents.failure();
  for (const core::Incident& incident : *incidents) {
    if (!is_in(incident.opened_at)) continue;
    tables_.add(incident);
    for (const auto& done : {add_all(unit_.incident_work().steps_of(incident.number)),
                             add_all(unit_.incident_work().accounted_in(incident.number))}) {
      if (!done) return done;
    }
  }
  return {};
}

// The days that were asked for; the whole record without any.
core::Details period_of(const ExportRequest& request, core::CivilDate today) {
  const core::CivilDate last = std::min(request.last, today);
  return {{"from", request.first.iso()}, {"to", last.iso()}};
}

std::string introduction(const report::Words& words, const ExportRequest& request, const core::Details& period) {
  const std::string reader{core::to_text(request.reader)};
  std::string text;
  for (const std::string& line : {words.text("export.title"), words.text("export.for." + reader),
                                  words.text("export.period", period), words.text("export.form"),
                                  words.text("export.left-out")}) {
    text += line + "\r\n\r\n";
  }
  return text;
}

Result<void> tell(const Ports& ports, const ExportRequest& request, const core::Details& period) {
  const auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto lead = require_lead(act->who); !lead) return lead.failure();
  const auto told =
      act->write(EventKind::RecordExported, std::string{core::to_text(request.reader)}, {}, period);
  if (!told) return told.failure();
  return act->unit->commit();
}

}  // namespace

Result<RecordExport> export_record(const Ports& ports, const report::Words& words, const ExportRequest& request) {
  if (request.last < request.first) {
    return Failure{FailureCode::BadValue, {{"field", "to"}, {"given", request.last.iso()}}, {}};
  }
  const auto today = lead_day(ports, request.operator_code);
  if (!today) return today.failure();
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  Exporting exporting{ports, **unit, words, request};
  if (const auto done = exporting.run(); !done) return done.failure();
  const core::Details period = period_of(request, *today);
  auto archive = exchange::make_archive(exporting.take(introduction(words, request, period)), ports.clock.now());
  if (!archive) return archive.failure();
  if (const auto told = tell(ports, request, period); !told) return told.failure();
  const std::string reader{core::to_text(request.reader)};
  return RecordExport{"loadlight-" + reader + "-" + today->iso() + ".tar", std::move(*archive), exporting.loads()};
}

}  // namespace loadlight::app
