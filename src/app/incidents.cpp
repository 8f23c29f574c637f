#include "loadlight/app/incidents.h"

#include <algorithm>
#include <map>

#include "app/incident_moves.h"
#include "app/load_moves.h"
#include "app/package_moves.h"
#include "app/suspects.h"
#include "loadlight/app/suspect_pages.h"
#include "loadlight/core/reasons.h"

namespace loadlight::app {
namespace {

using core::Disposition;
using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Incident;
using core::RecallReach;
using core::Result;

Failure bad_value(const char* field, std::string given) {
  return Failure{FailureCode::BadValue, {{"field", field}, {"given", std::move(given)}}, {}};
}

// Of how many packages that are called back nobody knows what became of them.
Result<int> count_unaccounted(const port::Unit& unit, const SuspectRange& range) {
  int count = 0;
  const auto visited = visit_suspects(
      unit, range, [&](const Suspect& suspect) { count += suspect.called_back && !suspect.disposition; });
  if (!visited) return visited.failure();
  return count;
}

// ---- progress

// Back in service, or gone for good.
Result<bool> gone_or_back(const port::Unit& unit, const Incident& incident) {
  const auto sterilizer = unit.sterilizers().find(incident.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  return *sterilizer && ((**sterilizer).retired_on.has_value() || !incident.sterilizer_held);
}

Result<std::vector<core::Obstacle>> obstacles_to_close(const port::Unit& unit, const SuspectRange& range,
                                                       const core::IncidentFacts& facts) {
  const auto unaccounted = count_unaccounted(unit, range);
  if (!unaccounted) return unaccounted.failure();
  const auto settled = gone_or_back(unit, range.incident);
  if (!settled) return settled.failure();
  return core::obstacles_to_close(facts, *unaccounted, *settled);
}

// How many packages there are, by place.
Result<void> count_suspects(const port::Unit& unit, const SuspectRange& range, IncidentStanding& standing) {
  std::map<std::string, SuspectPlace> places;
  const auto visited = visit_suspects(unit, range, [&](const Suspect& suspect) {
    const std::string location = suspect.package.location.value_or("");
    SuspectPlace& place = places.try_emplace(location, SuspectPlace{location, 0, 0}).first->second;
    ++place.packages;
    ++standing.suspects;
    if (suspect.disposition) return;
    ++place.unaccounted;
    ++standing.unaccounted;
  });
  if (!visited) return visited;
  for (const auto& [location, place] : places) standing.places.push_back(place);
  return {};
}

Result<IncidentStanding> standing_of(const Ports& ports, const port::Unit& unit, const SuspectRange& range) {
  const auto facts = facts_of(unit, range.incident, ports.clock.now());
  if (!facts) return facts.failure();
  const auto obstacles = obstacles_to_close(unit, range, *facts);
  if (!obstacles) return obstacles.failure();
  const auto loads = suspect_loads(unit, range.incident);
  if (!loads) return loads.failure();
  IncidentStanding standing;
  standing.incident = range.incident;
  standing.steps = core::steps(*facts);
  standing.to_return = core::obstacles_to_return(*facts);
  standing.to_close = *obstacles;
  standing.loads = *loads;
  if (const auto counted = count_suspects(unit, range, standing); !counted) return counted.failure();
  return standing;
}

Failure unfinished(const Incident& incident, const std::vector<core::Obstacle>& obstacles) {
  Failure failure{FailureCode::IncidentUnfinished, {{"incident", std::to_string(incident.number)}}, {}};
  for (const core::Obstacle& obstacle : obstacles) failure.items.push_back(sentence_for(obstacle));
  return failure;
}

const core::IncidentStepRow* find_step(const std::vector<core::IncidentStepRow>& steps,
                                       std::string_view code) {
  const auto row =
      std::find_if(steps.begin(), steps.end(), [&](const auto& each) { return each.code == code; });
  return row == steps.end() ? nullptr : &*row;
}

std::string listed(const std::vector<core::IncidentStepRow>& steps) {
  std::string text;
  for (const auto& step : steps) text += (text.empty() ? "" : ", ") + std::string{step.code};
  return text;
}

std::string listed(const std::vector<core::StepFinding>& findings) {
  std::string text;
  for (const auto& finding : findings) text += (text.empty() ? "" : ", ") + std::string{finding.code};
  return text;
}

Result<void> check_step(const Act& act, const Incident& incident, const StepRequest& request) {
  const auto steps = core::incident_steps_of(core::step_list(incident.cause, incident.procedure));
  const auto* row = find_step(steps, request.step);
  if (!row) return bad_value("step", request.step + " (" + listed(steps) + ")");
  const auto findings = core::findings_of(request.step);
  if (row->kind != core::StepKind::Retest && !core::is_finding_of(request.step, request.finding)) {
    return bad_value("finding", request.finding + " (" + listed(findings) + ")");
  }
  if (row->kind == core::StepKind::Decision) {
    if (const auto ok = require_lead(act.who); !ok) return ok;
  }
  const auto facts = facts_of(*act.unit, incident, act.now);
  if (!facts) return facts.failure();
  if (core::may_be_done(*facts, request.step)) return {};
  return Failure{
      FailureCode::StepNotDue, {{"step", request.step}, {"incident", std::to_string(incident.number)}}, {}};
}

// ---- accounting

// Brings a package's own state in line with what is said of it.
Result<core::Package> settle_package(const Act& act, const core::Package& package, Disposition disposition) {
  const bool opened = package.state == core::PackageState::Opened;
  switch (disposition) {
    case Disposition::Opened:
      if (!opened) return wrong_state(package);
      return package;
    case Disposition::Withdrawn:
    case Disposition::Reprocessed:
      if (package.state == core::PackageState::Withdrawn) return package;
      return write_withdrawal(act, package, core::WithdrawReason::Other);
    case Disposition::NotFound:
      if (opened || package.state == core::PackageState::Withdrawn) return wrong_state(package);
      return package;
  }
  return wrong_state(package);
}

}  // namespace

Result<std::vector<Incident>> list_incidents(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  return (**unit).incidents().all();
}

Result<Incident> each_suspect(const Ports& ports, int number,
                              const std::function<void(const Suspect&)>& visit) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto range = range_of(**unit, number);
  if (!range) return range.failure();
  if (const auto visited = visit_suspects(**unit, *range, visit); !visited) return visited.failure();
  return range->incident;
}

Result<IncidentStanding> incident_standing(const Ports& ports, int number) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto range = range_of(**unit, number);
  if (!range) return range.failure();
  return standing_of(ports, **unit, *range);
}

Result<IncidentView> show_incident(const Ports& ports, int number) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto range = range_of(**unit, number);
  if (!range) return range.failure();
  const auto standing = standing_of(ports, **unit, *range);
  if (!standing) return standing.failure();
  IncidentView view{standing->incident, standing->steps, standing->to_return, standing->to_close,
                    standing->loads,    {},              {}};
  const auto visited =
      visit_suspects(**unit, *range, [&](const Suspect& suspect) { view.suspects.push_back(suspect); });
  if (!visited) return visited.failure();
  for (const Suspect& suspect : view.suspects) {
    const auto added = visit_earlier_clears(
        **unit, *range, suspect.package.id,
        [&](const EarlierClear& clear) { view.earlier_clears.push_back(clear); });
    if (!added) return added.failure();
  }
  return view;
}

Result<Incident> do_step(const Ports& ports, const StepRequest& request) {
  if (request.note.size() > 500) return bad_value("note", request.note.substr(0, 60));
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto incident = find_open_incident(*act->unit, request.incident);
  if (!incident) return incident.failure();
  if (const auto ok = check_step(*act, *incident, request); !ok) return ok.failure();
  const auto highest = act->unit->incident_work().highest_step_number();
  if (!highest) return highest.failure();
  const core::IncidentStep step{*highest + 1, request.incident, request.step, request.finding,
                                request.note, act->who.code,    act->now};
  const auto written = act->write(EventKind::IncidentStepDone, std::to_string(request.incident), {step},
                                  {{"step", request.step}, {"finding", request.finding}});
  if (!written) return written.failure();
  auto after = recall_by_procedure(*act, *incident);
  if (!after) return after;
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return after;
}

Result<Suspect> account_for(const Ports& ports, const AccountRequest& request) {
  if (request.disposition == Disposition::NotFound && request.why.empty()) {
    return Failure{FailureCode::ReasonMissing, {{"field", "why"}}, {}};
  }
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto range = range_of(*act->unit, request.incident);
  if (!range) return range.failure();
  const auto open = find_open_incident(*act->unit, request.incident);
  if (!open) return open.failure();
  const auto package = suspect_package(ports, *act->unit, range->incident, request.package);
  if (!package) return package.failure();
  const auto settled = settle_package(*act, *package, request.disposition);
  if (!settled) return settled.failure();
  const core::Accounting row{request.incident, package->id,   request.disposition,
                             request.why,      act->who.code, act->now};
  const auto written = act->write(EventKind::PackageAccounted, package->id.text(), {row},
                                  {{"incident", std::to_string(request.incident)},
                                   {"disposition", std::string{core::to_text(request.disposition)}}});
  if (!written) return written.failure();
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  range->accounted.insert_or_assign(row.package, row);
  return suspect_of(*range, *settled);
}

Result<Incident> narrow_range(const Ports& ports, const NarrowRequest& request) {
  if (request.why.empty()) return Failure{FailureCode::ReasonMissing, {{"field", "why"}}, {}};
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = require_lead(act->who); !ok) return ok.failure();
  auto incident = find_open_incident(*act->unit, request.incident);
  if (!incident) return incident;
  const auto first = find_load(*act->unit, request.first);
  if (!first) return first.failure();
  const auto last = find_load(*act->unit, request.last);
  if (!last) return last.failure();
  if (!incident->covers(*first)) return bad_value("first", request.first.text());
  if (!incident->covers(*last) || *last->run < *first->run) return bad_value("last", request.last.text());
  // The load that raised the incident stays in doubt, whatever a person decides.
  const auto raised_by = find_load(*act->unit, incident->load());
  if (!raised_by) return raised_by.failure();
  if (*raised_by->run < *first->run || *raised_by->run > *last->run) {
    return bad_value("first", incident->load().text());
  }
  const std::string before = std::to_string(incident->first_run) + "-" + std::to_string(incident->last_run);
  incident->first_run = *first->run;
  incident->last_run = *last->run;
  incident->narrowed_why = request.why;
  const auto written = act->write(EventKind::IncidentNarrowed, std::to_string(incident->number), {*incident},
                                  {{"why", request.why}, {"runs-before", before}});
  if (!written) return written.failure();
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return incident;
}

Result<Incident> close_incident(const Ports& ports, const CloseRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = require_lead(act->who); !ok) return ok.failure();
  auto incident = find_open_incident(*act->unit, request.incident);
  if (!incident) return incident;
  // Loads of the range that ended since the recall are called back before it is over.
  if (incident->recall == RecallReach::Everything) {
    if (const auto ok = recall_loads(*act, *incident); !ok) return ok.failure();
  }
  const auto range = range_of(*act->unit, request.incident);
  if (!range) return range.failure();
  const auto facts = facts_of(*act->unit, *incident, act->now);
  if (!facts) return facts.failure();
  const auto obstacles = obstacles_to_close(*act->unit, *range, *facts);
  if (!obstacles) return obstacles.failure();
  if (!obstacles->empty()) return unfinished(*incident, *obstacles);
  const auto loads = suspect_loads(*act->unit, *incident);
  if (!loads) return loads.failure();
  for (const core::Load& load : *loads) {
    if (load.state == core::LoadState::Running) return wrong_state(load);
  }
  incident->state = core::IncidentState::Closed;
  incident->closed_by = act->who.code;
  incident->closed_at = act->now;
  const auto written = act->write(EventKind::IncidentClosed, std::to_string(incident->number), {*incident},
                                  {{"note", request.note}});
  if (!written) return written.failure();
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return incident;
}

}  // namespace loadlight::app
