#include "app/suspects.h"

#include <algorithm>

#include "app/incident_moves.h"
#include "app/load_moves.h"
#include "loadlight/app/package_reference.h"
#include "loadlight/core/reasons.h"

namespace loadlight::app {
namespace {

using core::Disposition;
using core::RecallReach;
using core::Result;

std::map<std::string, std::string> names_of(const std::vector<core::Contents>& contents) {
  std::map<std::string, std::string> names;
  for (const core::Contents& one : contents) names.emplace(one.code, one.name);
  return names;
}

// What a package says of itself.
std::optional<Disposition> own_disposition(const core::Package& package) {
  if (package.state == core::PackageState::Opened) return Disposition::Opened;
  if (package.state == core::PackageState::Withdrawn) return Disposition::Withdrawn;
  return std::nullopt;
}

}  // namespace

bool was_in_the_load(const core::Package& package) {
  return package.state != core::PackageState::Labelled && package.state != core::PackageState::Void;
}

Result<SuspectRange> range_of(const port::Unit& unit, int number) {
  const auto incident = find_incident(unit, number);
  if (!incident) return incident.failure();
  const auto accounted = unit.incident_work().accounted_in(number);
  if (!accounted) return accounted.failure();
  const auto contents = unit.contents().all();
  if (!contents) return contents.failure();
  SuspectRange range{*incident, {}, names_of(*contents)};
  for (const core::Accounting& row : *accounted) range.accounted.emplace(row.package, row);
  return range;
}

Suspect suspect_of(const SuspectRange& range, const core::Package& package) {
  Suspect suspect{package, {}, own_disposition(package), {}, false};
  if (const auto name = range.contents.find(package.contents); name != range.contents.end()) {
    suspect.contents_name = name->second;
  }
  if (const auto row = range.accounted.find(package.id); row != range.accounted.end()) {
    suspect.disposition = row->second.disposition;
    suspect.why = row->second.why;
  }
  suspect.called_back = package.recalled || range.incident.recall == RecallReach::Everything;
  return suspect;
}

Result<core::Package> suspect_package(const Ports& ports, const port::Unit& unit, const core::Incident& incident,
                                      const std::string& reference) {
  const auto packages = find_packages(ports, unit, {reference});
  if (!packages) return packages.failure();
  const core::Package& package = packages->front();
  const auto load = find_load(unit, package.load);
  if (!load) return load.failure();
  if (incident.covers(*load) && was_in_the_load(package)) return package;
  return core::Failure{core::FailureCode::NotSuspect,
                 {{"package", package.id.grouped()}, {"incident", std::to_string(incident.number)}},
                 {}};
}

Result<void> visit_suspects(const port::Unit& unit, const SuspectRange& range,
                            const std::function<void(const Suspect&)>& visit) {
  return unit.packages().of_runs(runs_of(range.incident), [&](const core::Package& package) {
    if (was_in_the_load(package)) visit(suspect_of(range, package));
  });
}

Result<void> visit_earlier_clears(const port::Unit& unit, const SuspectRange& range,
                                  const core::PackageId& package,
                                  const std::function<void(const EarlierClear&)>& visit) {
  const auto checks = unit.events_about(package.text(), core::EventKind::PackageChecked);
  if (!checks) return checks.failure();
  const core::Detail clear{"outcome", std::string{core::to_text(core::Outcome::Clear)}};
  for (const port::PastEvent& check : *checks) {
    const auto& details = check.details;
    const bool was_clear = std::find(details.begin(), details.end(), clear) != details.end();
    if (was_clear && check.at <= range.incident.opened_at) visit({package, check.at, check.operator_code});
  }
  return {};
}

}  // namespace loadlight::app
