#include "app/incident_moves.h"

#include <algorithm>
#include <map>

#include "app/load_facts.h"
#include "app/load_moves.h"
#include "app/rules_in_force.h"
#include "loadlight/core/suspect_range.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Incident;
using core::IncidentCause;
using core::RecallReach;
using core::Result;

// ---- the suspect range

// What a load's biological indicators say together, under its run; nothing while a result is awaited.
Result<std::optional<core::ChainResult>> chain_result(const port::Unit& unit, const core::LoadName& name,
                                                      const std::vector<core::BiologicalReading>& readings,
                                                      const core::Profile& profile) {
  const auto load = find_load(unit, name);
  if (!load) return load.failure();
  const auto runs = unit.evidence().runs_of(name);
  if (!runs) return runs.failure();
  const auto standing = core::standing_of(*runs, readings, profile);
  if (!standing || !load->run) return std::optional<core::ChainResult>{};
  return std::optional{core::ChainResult{*load->run, load->program, *standing}};
}

Result<std::vector<core::ChainResult>> chain_of(const port::Unit& unit, const std::string& sterilizer,
                                                const core::Profile& profile) {
  const auto readings = unit.evidence().biologicals_of_sterilizer(sterilizer);
  if (!readings) return readings.failure();
  std::map<core::LoadName, std::vector<core::BiologicalReading>> by_load;
  for (const auto& reading : *readings) by_load[reading.load].push_back(reading);
  std::vector<core::ChainResult> chain;
  for (const auto& [name, of_load] : by_load) {
    const auto result = chain_result(unit, name, of_load, profile);
    if (!result) return result.failure();
    if (*result) chain.push_back(**result);
  }
  return chain;
}

Result<void> set_range(const Act& act, const core::Load& load, const core::Profile& profile,
                       Incident& incident) {
  if (!load.run) return wrong_state(load);
  if (incident.cause == IncidentCause::InternalIndicator) {
    incident.first_run = incident.last_run = *load.run;
    return {};
  }
  const auto chain = chain_of(*act.unit, load.name.sterilizer, profile);
  if (!chain) return chain.failure();
  const auto newest = act.unit->loads().highest_run(load.name.sterilizer);
  if (!newest) return newest.failure();
  const core::SuspectRange range =
      core::suspect_range(*chain, *load.run, load.program, *newest, profile.chains);
  incident.first_run = range.first_run;
  incident.last_run = range.last_run;
  incident.program = range.program;
  return {};
}

// ---- opening

Result<std::optional<Incident>> already_open(const port::Unit& unit, const core::Load& load,
                                             IncidentCause cause) {
  const auto open = unit.incidents().open_ones();
  if (!open) return open.failure();
  for (const Incident& incident : *open) {
    if (incident.cause == cause && incident.load() == load.name) return std::optional{incident};
  }
  return std::optional<Incident>{};
}

Result<core::IncidentStep> step_done(const Act& act, int incident, std::string step, std::string finding) {
  const auto highest = act.unit->incident_work().highest_step_number();
  if (!highest) return highest.failure();
  return core::IncidentStep{*highest + 1, incident,     std::move(step), std::move(finding),
                            "",           act.who.code, act.now};
}

// Out of service at once: the procedure's first step is this program's own.
Result<void> take_out_of_service(const Act& act, Incident& incident, std::vector<core::Record>& records) {
  const auto sterilizer = act.unit->sterilizers().find(incident.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  if (!*sterilizer)
    return Failure{FailureCode::RecordDamaged, {{"why", "sterilizer " + incident.sterilizer}}, {}};
  const auto step = step_done(act, incident.number, "out-of-service", "done");
  if (!step) return step.failure();
  incident.sterilizer_held = true;
  core::Sterilizer out = **sterilizer;
  out.in_service = false;
  records.emplace_back(out);
  records.emplace_back(*step);
  return {};
}

// ---- recall

// Packages with implants that lie on a shelf or anywhere unopened.
Result<std::vector<core::Record>> implants_to_recall(const port::Unit& unit, const Incident& incident) {
  const auto contents = unit.contents().all();
  if (!contents) return contents.failure();
  const auto is_implant = [&](const std::string& code) {
    const auto row = std::find_if(contents->begin(), contents->end(),
                                  [&](const core::Contents& one) { return one.code == code; });
    return row == contents->end() || row->implant;
  };
  std::vector<core::Record> records;
  const auto visited = unit.packages().of_runs(runs_of(incident), [&](const core::Package& package) {
    if (package.state != core::PackageState::Loaded || package.recalled || !is_implant(package.contents))
      return;
    core::Package recalled = package;
    recalled.recalled = true;
    records.emplace_back(recalled);
  });
  if (!visited) return visited.failure();
  return records;
}

Result<void> recall_implants(const Act& act, const Incident& incident) {
  auto records = implants_to_recall(*act.unit, incident);
  if (!records) return records.failure();
  if (records->empty()) return {};
  return act.write(EventKind::PackagesRecalled, std::to_string(incident.number), std::move(*records),
                   {{"reach", "implants"}});
}

Result<void> recall_up_to(const Act& act, const Incident& incident, RecallReach reach) {
  switch (reach) {
    case RecallReach::Nothing:
      return {};
    case RecallReach::Implants:
      return recall_implants(act, incident);
    case RecallReach::Everything:
      return recall_loads(act, incident);
  }
  return recall_loads(act, incident);
}

// ---- retests

constexpr core::Reason kBiologicalReasons[] = {
    core::Reason::BiologicalAwaited, core::Reason::BiologicalInvalid, core::Reason::BiologicalPositive,
    core::Reason::ClockBehindRecord};

// Nothing but the biological result may speak against a retest whose other evidence is in order.
bool is_otherwise_fine(core::LoadFacts facts) {
  if (!core::has_ended(facts.state) || facts.state == core::LoadState::Aborted) return false;
  facts.state = core::LoadState::Finished;
  const core::Verdict verdict = core::judge_release(facts);
  return std::all_of(verdict.reasons().begin(), verdict.reasons().end(), [](core::Reason reason) {
    return std::find(std::begin(kBiologicalReasons), std::end(kBiologicalReasons), reason) !=
           std::end(kBiologicalReasons);
  });
}

// By the order of the ledger: the clock may have been put right in between. What was not done as a step of its
// own was done when the incident was opened.
Result<int> steps_before(const port::Unit& unit, const std::string& incident, std::size_t steps,
                         const core::Load& load) {
  const auto started = unit.find_events({load.name.text(), EventKind::LoadStarted, {}});
  if (!started) return started.failure();
  const auto opened = unit.find_events({incident, EventKind::IncidentOpened, {}});
  if (!opened) return opened.failure();
  const auto done = unit.find_events({incident, EventKind::IncidentStepDone, {}});
  if (!done) return done.failure();
  if (started->empty()) return 0;
  const auto is_before = [&](const port::FoundEvent& each) { return each.sequence < started->front().sequence; };
  const auto count = std::count_if(done->begin(), done->end(), is_before);
  const bool after_opening = std::any_of(opened->begin(), opened->end(), is_before);
  const std::size_t at_opening = after_opening && steps > done->size() ? steps - done->size() : 0;
  return static_cast<int>(count) + static_cast<int>(at_opening);
}

Result<core::Retest> retest_of(const port::Unit& unit, const core::Load& load, const std::string& program,
                               const std::vector<core::IncidentStep>& steps, core::Instant now) {
  const auto facts = facts_of(unit, load, now);
  if (!facts) return facts.failure();
  core::Retest retest;
  retest.run = load.run.value_or(0);
  if (facts->profile) {
    retest.standing = core::standing_of(facts->biological_runs, facts->biologicals, *facts->profile);
  }
  retest.mechanical_and_chemical_fine = is_otherwise_fine(*facts);
  retest.same_program = load.program == program;
  retest.empty_chamber = load.loose_items.empty();
  const auto before = steps_before(unit, std::to_string(load.retest_of.value_or(0)), steps.size(), load);
  if (!before) return before.failure();
  retest.after_steps = *before;
  return retest;
}

}  // namespace

core::Sentence sentence_for(const core::Obstacle& obstacle) {
  return {"incident.obstacle." + std::string{core::to_text(obstacle.kind)},
          {{"step", std::string{obstacle.step}}, {"count", std::to_string(obstacle.count)}}};
}

port::RunRange runs_of(const Incident& incident) {
  return {incident.sterilizer, incident.first_run, incident.last_run, incident.program};
}

Result<Incident> find_incident(const port::Unit& unit, int number) {
  const auto incident = unit.incidents().find(number);
  if (!incident) return incident.failure();
  if (!*incident) return Failure{FailureCode::IncidentUnknown, {{"incident", std::to_string(number)}}, {}};
  return **incident;
}

Result<Incident> find_open_incident(const port::Unit& unit, int number) {
  auto incident = find_incident(unit, number);
  if (incident && incident->state != core::IncidentState::Open) {
    return Failure{FailureCode::IncidentEnded, {{"incident", std::to_string(number)}}, {}};
  }
  return incident;
}

Result<Incident> new_incident(const Act& act, const core::Load& load, IncidentCause cause, std::string note) {
  const auto highest = act.unit->incidents().highest_number();
  if (!highest) return highest.failure();
  const auto profile = profile_in_force(*act.unit, act.office);
  if (!profile) return profile.failure();
  Incident incident;
  incident.number = *highest + 1;
  incident.cause = cause;
  incident.sterilizer = load.name.sterilizer;
  incident.load_number = load.name.number;
  incident.procedure = profile->procedure;
  incident.profile = profile->text();
  incident.opened_by = act.who.code;
  incident.opened_at = act.now;
  incident.note = std::move(note);
  return incident;
}

Result<Incident> open_incident(const Act& act, const core::Load& load, IncidentCause cause,
                               std::string note) {
  const auto going_on = already_open(*act.unit, load, cause);
  if (!going_on) return going_on.failure();
  if (*going_on) return recall_by_procedure(act, **going_on);
  const auto profile = profile_in_force(*act.unit, act.office);
  if (!profile) return profile.failure();
  auto begun = new_incident(act, load, cause, std::move(note));
  if (!begun) return begun;
  Incident& incident = *begun;
  if (const auto ok = set_range(act, load, *profile, incident); !ok) return ok.failure();
  std::vector<core::Record> records;
  if (cause == IncidentCause::BiologicalPositive) {
    if (const auto ok = take_out_of_service(act, incident, records); !ok) return ok.failure();
  }
  records.emplace_back(incident);
  const auto written = act.write(EventKind::IncidentOpened, std::to_string(incident.number),
                                 std::move(records), {{"load", load.name.text()}});
  if (!written) return written.failure();
  return recall_by_procedure(act, std::move(incident));
}

Result<core::IncidentFacts> facts_of(const port::Unit& unit, const Incident& incident, core::Instant now) {
  const auto steps = unit.incident_work().steps_of(incident.number);
  if (!steps) return steps.failure();
  const auto retests = unit.loads().retests_of(incident.number);
  if (!retests) return retests.failure();
  const auto raised_by = find_load(unit, incident.load());
  if (!raised_by) return raised_by.failure();
  core::IncidentFacts facts;
  facts.procedure = incident.procedure;
  facts.cause = incident.cause;
  facts.narrowed = !incident.narrowed_why.empty();
  for (const core::IncidentStep& step : *steps) facts.done.push_back({step.step, step.finding});
  for (const core::Load& load : *retests) {
    const auto retest = retest_of(unit, load, raised_by->program, *steps, now);
    if (!retest) return retest.failure();
    facts.retests.push_back(*retest);
  }
  return facts;
}

Result<Incident> recall_by_procedure(const Act& act, Incident incident) {
  const auto facts = facts_of(*act.unit, incident, act.now);
  if (!facts) return facts.failure();
  const RecallReach reach = std::max(incident.recall, core::recall_reach(*facts));
  if (reach == incident.recall) return incident;
  incident.recall = reach;
  if (const auto ok = recall_up_to(act, incident, reach); !ok) return ok.failure();
  const auto written = act.write(EventKind::RecallWidened, std::to_string(incident.number), {incident},
                                 {{"recall", std::string{core::to_text(reach)}}});
  if (!written) return written.failure();
  return incident;
}

Result<std::optional<Incident>> bear_on_incident(const Act& act, int number) {
  const auto incident = find_incident(*act.unit, number);
  if (!incident) return incident.failure();
  if (incident->state != core::IncidentState::Open) return std::optional<Incident>{};
  auto borne = recall_by_procedure(act, *incident);
  if (!borne) return borne.failure();
  return std::optional{std::move(*borne)};
}

Result<std::vector<core::Load>> suspect_loads(const port::Unit& unit, const Incident& incident) {
  auto loads = unit.loads().of_runs(runs_of(incident));
  if (!loads) return loads;
  std::erase_if(*loads, [](const core::Load& load) { return load.purpose != core::LoadPurpose::Process; });
  return loads;
}

Result<void> recall_loads(const Act& act, const Incident& incident) {
  const auto loads = suspect_loads(*act.unit, incident);
  if (!loads) return loads.failure();
  for (core::Load load : *loads) {
    const auto state = core::after(load.state, core::LoadMove::Recall);
    if (!state) continue;
    load.state = *state;
    const auto written = act.write(EventKind::LoadRecalled, load.name.text(), {load},
                                   {{"incident", std::to_string(incident.number)}});
    if (!written) return written;
  }
  return {};
}

}  // namespace loadlight::app
