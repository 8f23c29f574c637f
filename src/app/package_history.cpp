#include "loadlight/app/package_history.h"

#include <algorithm>
#include <set>

#include "loadlight/app/queued_acts.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::PackageId;
using core::Result;
using Events = std::vector<port::FoundEvent>;

// Of a load, these concern the packages they name alone.
constexpr EventKind kOfNamedPackages[] = {EventKind::LabelsPrinted, EventKind::PackagesAdded,
                                          EventKind::PackagesRemoved};
// Of an incident, its beginning and end concern every package in its range.
constexpr EventKind kOfWholeRange[] = {EventKind::IncidentOpened, EventKind::RecallWidened,
                                       EventKind::IncidentNarrowed, EventKind::IncidentClosed};

template <class Kinds>
bool is_one_of(EventKind kind, const Kinds& kinds) {
  return std::find(std::begin(kinds), std::end(kinds), kind) != std::end(kinds);
}

std::string detail_of(const port::FoundEvent& event, std::string_view name) {
  for (const auto& [key, value] : event.details) {
    if (key == name) return value;
  }
  return "";
}

// Gathers events, each once.
class Gathering final {
 public:
  Gathering(const port::Unit& unit, PackageHistory& history) : unit_(unit), history_(history) {}

  Result<void> run();

 private:
  Result<void> add(const port::LedgerSearch& search);
  Result<void> add_own();
  Result<void> add_of_load();
  Result<void> add_of_label();
  Result<void> add_of_places();
  Result<void> add_of_audits(const std::string& place);
  Result<void> add_of_incidents();

  const PackageId& id() const { return history_.package.id; }

  const port::Unit& unit_;
  PackageHistory& history_;
  std::set<std::int64_t> added_;
};

Result<void> Gathering::run() {
  for (const auto step : {&Gathering::add_own, &Gathering::add_of_load, &Gathering::add_of_label,
                          &Gathering::add_of_places, &Gathering::add_of_incidents}) {
    if (auto done = (this->*step)(); !done) return done;
  }
  std::sort(history_.events.begin(), history_.events.end(),
            [](const auto& a, const auto& b) { return a.sequence < b.sequence; });
  return {};
}

Result<void> Gathering::add(const port::LedgerSearch& search) {
  const auto found = unit_.find_events(search);
  if (!found) return found.failure();
  for (const port::FoundEvent& event : *found) {
    if (added_.insert(event.sequence).second) history_.events.push_back(event);
  }
  return {};
}

// A label voided together with others is named in a subject that lists them all, which no index finds.
Result<void> Gathering::add_own() {
  if (auto added = add({id().text(), {}, {}}); !added) return added;
  if (auto added = add({kOpeningsSubject, EventKind::OpeningContradicted, id()}); !added) return added;
  const bool told = std::any_of(history_.events.begin(), history_.events.end(), [](const auto& event) {
    return event.kind == EventKind::LabelVoided || event.kind == EventKind::LabelReplaced;
  });
  if (history_.package.state != core::PackageState::Void || told) return {};
  return add({{}, EventKind::LabelVoided, id()});
}

Result<void> Gathering::add_of_load() {
  const std::string load = history_.package.load.text();
  const auto all = unit_.find_events({load, {}, {}});
  if (!all) return all.failure();
  for (const port::FoundEvent& event : *all) {
    if (is_one_of(event.kind, kOfNamedPackages)) continue;
    if (added_.insert(event.sequence).second) history_.events.push_back(event);
  }
  for (const EventKind kind : kOfNamedPackages) {
    if (auto added = add({load, kind, id()}); !added) return added;
  }
  return {};
}

// A reprint names the cells of its print run.
Result<void> Gathering::add_of_label() {
  const std::string run = std::to_string(history_.package.print_run);
  const auto again = unit_.find_events({run, EventKind::LabelsReprinted, {}});
  if (!again) return again.failure();
  const std::string cell = " " + std::to_string(history_.package.cell) + " ";
  for (const port::FoundEvent& event : *again) {
    const bool names_it = (" " + detail_of(event, "cells") + " ").find(cell) != std::string::npos;
    if (names_it && added_.insert(event.sequence).second) history_.events.push_back(event);
  }
  for (const PackageId& old : history_.replaces) {
    if (auto added = add({old.text(), EventKind::LabelReplaced, id()}); !added) return added;
  }
  return {};
}

Result<void> Gathering::add_of_places() {
  const auto places = unit_.locations().all();
  if (!places) return places.failure();
  for (const core::Location& place : *places) {
    if (auto added = add({place.code, EventKind::PackagesShelved, id()}); !added) return added;
    if (auto added = add_of_audits(place.code); !added) return added;
  }
  return {};
}

// Only audits since its label was printed can have seen it.
Result<void> Gathering::add_of_audits(const std::string& place) {
  const auto audits = unit_.find_events({place, EventKind::AuditBegun, {}});
  if (!audits) return audits.failure();
  for (const port::FoundEvent& audit : *audits) {
    if (audit.at < history_.package.printed_at) continue;
    if (auto added = add({detail_of(audit, "audit"), EventKind::PackagesSeen, id()}); !added) return added;
  }
  return {};
}

Result<void> Gathering::add_of_incidents() {
  const auto incidents = unit_.incidents().all();
  if (!incidents) return incidents.failure();
  for (const core::Incident& incident : *incidents) {
    const std::string number = std::to_string(incident.number);
    if (auto added = add({number, EventKind::PackagesRecalled, id()}); !added) return added;
    if (!history_.load || !incident.covers(*history_.load)) continue;
    history_.incidents.push_back(incident);
    for (const EventKind kind : kOfWholeRange) {
      if (auto added = add({number, kind, {}}); !added) return added;
    }
  }
  return {};
}

template <class T>
Result<std::string> name_in(const port::Table<T>& table, const std::string& code) {
  const auto found = table.find(code);
  if (!found) return found.failure();
  return *found ? (**found).name : code;
}

Result<void> read_names(const port::Unit& unit, PackageHistory& history) {
  const core::Package& package = history.package;
  const auto contents = name_in(unit.contents(), package.contents);
  if (!contents) return contents.failure();
  history.contents_name = *contents;
  const auto kind = name_in(unit.kinds(), package.kind);
  if (!kind) return kind.failure();
  history.kind_name = *kind;
  if (!package.location) return {};
  const auto location = name_in(unit.locations(), *package.location);
  if (!location) return location.failure();
  history.location_name = *location;
  return {};
}

Result<void> read_relatives(const port::Unit& unit, PackageHistory& history) {
  const auto load = unit.loads().find(history.package.load);
  if (!load) return load.failure();
  history.load = *load;
  const auto run = unit.print_runs().find(history.package.print_run);
  if (!run) return run.failure();
  history.run = *run;
  const auto replaced = unit.packages().replaced_by(history.package.id);
  if (!replaced) return replaced.failure();
  for (const core::Package& old : *replaced) history.replaces.push_back(old.id);
  return read_names(unit, history);
}

// The one reading that an event wrote; null when several were read by the same person at the same moment.
template <class Reading>
const Reading* read_by(const port::FoundEvent& event, const std::vector<Reading>& readings) {
  const Reading* found = nullptr;
  for (const Reading& each : readings) {
    if (each.read_at != event.at || each.read_by != event.operator_code) continue;
    if (found) return nullptr;
    found = &each;
  }
  return found;
}

// Events of readings name no result; the record does.
Result<void> tell_readings(const port::Unit& unit, PackageHistory& history) {
  const auto indicators = unit.evidence().indicators_of(history.package.load);
  if (!indicators) return indicators.failure();
  const auto biologicals = unit.evidence().biologicals_of(history.package.load);
  if (!biologicals) return biologicals.failure();
  for (port::FoundEvent& event : history.events) {
    if (event.kind == EventKind::IndicatorRead) {
      const auto* reading = read_by(event, *indicators);
      if (!reading) continue;
      event.details.emplace_back("place", core::to_text(reading->place));
      event.details.emplace_back("result", reading->passed ? "pass" : "fail");
    } else if (event.kind == EventKind::BiologicalRead) {
      const auto* reading = read_by(event, *biologicals);
      if (reading) event.details.emplace_back("test", core::to_text(reading->test));
    }
  }
  return {};
}

}  // namespace

Result<std::optional<PackageHistory>> package_history(const port::Unit& unit, const PackageId& id) {
  const auto package = unit.packages().find(id);
  if (!package) return package.failure();
  if (!*package) return std::optional<PackageHistory>{};
  PackageHistory history{**package, {}, {}, {}, {}, {}, {}, {}, {}};
  if (auto read = read_relatives(unit, history); !read) return read.failure();
  if (auto gathered = Gathering{unit, history}.run(); !gathered) return gathered.failure();
  if (auto told = tell_readings(unit, history); !told) return told.failure();
  return std::optional{std::move(history)};
}

}  // namespace loadlight::app
