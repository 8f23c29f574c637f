#include "loadlight/app/recall_lot.h"

#include <algorithm>
#include <map>
#include <set>

#include "app/affected_by_lot.h"
#include "app/incident_moves.h"
#include "app/load_moves.h"
#include "app/recalled_lots.h"
#include "app/suspects.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Incident;
using core::IncidentCause;
using core::Result;

constexpr std::size_t kLongestLot = 40;
constexpr std::size_t kLongestReason = 400;

bool is_of_lot(IncidentCause cause) {
  return cause == IncidentCause::FaultyIndicator || cause == IncidentCause::FaultyPouch;
}

// Of loads that follow one another in a sterilizer, the first and the last.
struct Stretch final {
  core::Load first;
  core::Load last;
};

// One lot's recall within one unit.
class Recalling final {
 public:
  Recalling(const Ports& ports, const Act& act, std::string lot, std::string why)
      : ports_(ports), act_(act), unit_(*act.unit), lot_(std::move(lot)), why_(std::move(why)) {}

  Result<LotRecall> run();

 private:
  Result<void> bar();
  Result<void> find_earlier();
  Result<void> call_back_judged();
  Result<void> call_back_packed(const core::Consumable& lot);
  Result<void> cover(IncidentCause cause, const Runs& runs);
  Result<std::vector<Stretch>> stretches(IncidentCause cause, const std::string& sterilizer, const std::set<int>& runs);
  Result<void> open(IncidentCause cause, const Stretch& stretch);
  bool is_covered(IncidentCause cause, const core::Load& load) const;
  Result<void> mark(const std::vector<core::Package>& packages);
  Result<void> list();
  Result<void> list_incident(const Incident& incident);

  const Ports& ports_;
  const Act& act_;
  port::Unit& unit_;
  std::string lot_, why_;
  LotRecall recall_;
  std::optional<core::Instant> earlier_;
  std::vector<Incident> incidents_;  // of this lot
  std::set<core::PackageId> packed_;
  std::vector<core::Package> unrun_;  // of those, in no load that has run
};

// ---- the lot itself

// From now on nothing is released on it, and it is not offered any more.
Result<void> Recalling::bar() {
  const auto earlier = recalled_at(unit_, lot_);
  if (!earlier) return earlier.failure();
  earlier_ = *earlier;
  recall_.recalled_at = earlier_.value_or(act_.now);
  if (earlier_) return {};
  const auto entry = unit_.consumables().find(lot_);
  if (!entry) return entry.failure();
  std::vector<core::Record> records;
  if (*entry && !(**entry).retired_on) {
    core::Consumable retired = **entry;
    retired.retired_on = act_.today;
    records.emplace_back(retired);
  }
  recall_.added = true;
  return act_.write(EventKind::LotRecalled, lot_, std::move(records), {{"why", why_}});
}

Result<void> Recalling::find_earlier() {
  const auto all = unit_.incidents().all();
  if (!all) return all.failure();
  for (const Incident& incident : *all) {
    if (!is_of_lot(incident.cause)) continue;
    const auto opened = unit_.events_about(std::to_string(incident.number), EventKind::IncidentOpened);
    if (!opened) return opened.failure();
    const core::Detail names_it{"lot", lot_};
    const bool ours = std::any_of(opened->begin(), opened->end(), [&](const port::PastEvent& event) {
      return std::find(event.details.begin(), event.details.end(), names_it) != event.details.end();
    });
    if (ours) incidents_.push_back(incident);
  }
  return {};
}

// ---- incidents

bool Recalling::is_covered(IncidentCause cause, const core::Load& load) const {
  return std::any_of(incidents_.begin(), incidents_.end(),
                     [&](const Incident& each) { return each.cause == cause && each.covers(load); });
}

// Tests and retests in between hold nothing to call back, and divide nothing.
Result<std::vector<Stretch>> Recalling::stretches(IncidentCause cause, const std::string& sterilizer,
                                                  const std::set<int>& runs) {
  const auto loads = unit_.loads().of_runs({sterilizer, *runs.begin(), *runs.rbegin(), {}});
  if (!loads) return loads.failure();
  std::vector<Stretch> found;
  bool goes_on = false;
  for (const core::Load& load : *loads) {
    if (load.purpose != core::LoadPurpose::Process) continue;
    const bool affected = runs.contains(*load.run) && !is_covered(cause, load);
    if (affected && goes_on) found.back().last = load;
    if (affected && !goes_on) found.push_back({load, load});
    goes_on = affected;
  }
  return found;
}

Result<void> Recalling::open(IncidentCause cause, const Stretch& stretch) {
  auto incident = new_incident(act_, stretch.first, cause, lot_ + ": " + why_);
  if (!incident) return incident.failure();
  incident->first_run = *stretch.first.run;
  incident->last_run = *stretch.last.run;
  const auto written = act_.write(EventKind::IncidentOpened, std::to_string(incident->number), {*incident},
                                  {{"load", stretch.first.name.text()}, {"lot", lot_}});
  if (!written) return written;
  auto after = recall_by_procedure(act_, std::move(*incident));
  if (!after) return after.failure();
  incidents_.push_back(std::move(*after));
  recall_.added = true;
  return {};
}

Result<void> Recalling::cover(IncidentCause cause, const Runs& runs) {
  for (const auto& [sterilizer, of_it] : runs) {
    const auto found = stretches(cause, sterilizer, of_it);
    if (!found) return found.failure();
    for (const Stretch& stretch : *found) {
      if (const auto ok = open(cause, stretch); !ok) return ok;
    }
  }
  return {};
}

// ---- what it was used for

Result<void> Recalling::call_back_judged() {
  const auto evidence = judged_by_lot(unit_, lot_);
  if (!evidence) return evidence.failure();
  recall_.known = recall_.known || evidence->any;
  return cover(IncidentCause::FaultyIndicator, evidence->runs);
}

// One event a load, so that none grows without bounds.
Result<void> Recalling::mark(const std::vector<core::Package>& packages) {
  std::map<core::LoadName, std::vector<core::Record>> by_load;
  for (const core::Package& package : packages) {
    const bool goes_round = package.state == core::PackageState::Labelled || package.state == core::PackageState::Loaded;
    if (package.recalled || !goes_round) continue;
    core::Package recalled = package;
    recalled.recalled = true;
    by_load[package.load].emplace_back(recalled);
  }
  for (auto& [load, records] : by_load) {
    recall_.added = true;
    const auto written = act_.write(EventKind::LotRecalled, lot_, std::move(records), {{"load", load.text()}});
    if (!written) return written;
  }
  return {};
}

Result<void> Recalling::call_back_packed(const core::Consumable& lot) {
  const auto packages = packed_in_lot(ports_, unit_, lot, earlier_);
  if (!packages) return packages.failure();
  const auto runs = runs_of_packages(unit_, *packages);
  if (!runs) return runs.failure();
  if (const auto ok = cover(IncidentCause::FaultyPouch, *runs); !ok) return ok;
  if (const auto ok = mark(*packages); !ok) return ok;
  for (const core::Package& package : *packages) {
    packed_.insert(package.id);
    if (package.state == core::PackageState::Withdrawn) continue;
    const auto load = find_load(unit_, package.load);
    if (!load) return load.failure();
    if (is_covered(IncidentCause::FaultyPouch, *load)) continue;
    unrun_.push_back(package);
    unrun_.back().recalled = true;
  }
  return {};
}

// ---- what is told of it

// Of an incident of pouches, those of the lot alone; of indicators, everything that lay in the loads.
Result<void> Recalling::list_incident(const Incident& incident) {
  recall_.incidents.push_back(incident.number);
  const auto loads = suspect_loads(unit_, incident);
  if (!loads) return loads.failure();
  for (const core::Load& load : *loads) recall_.loads.push_back({load, incident.number});
  const auto range = range_of(unit_, incident.number);
  if (!range) return range.failure();
  const bool whole_loads = incident.cause == IncidentCause::FaultyIndicator;
  return visit_suspects(unit_, *range, [&](const Suspect& suspect) {
    if (whole_loads || packed_.contains(suspect.package.id)) recall_.packages.push_back(suspect);
  });
}

Result<void> Recalling::list() {
  for (const Incident& incident : incidents_) {
    if (const auto ok = list_incident(incident); !ok) return ok;
  }
  std::sort(recall_.loads.begin(), recall_.loads.end(), [](const AffectedLoad& a, const AffectedLoad& b) {
    return std::pair{a.load.name.sterilizer, a.load.run} < std::pair{b.load.name.sterilizer, b.load.run};
  });
  for (const core::Package& package : unrun_) {
    Suspect suspect{package, {}, {}, {}, true};
    const auto contents = unit_.contents().find(package.contents);
    if (!contents) return contents.failure();
    if (*contents) suspect.contents_name = (**contents).name;
    recall_.packages.push_back(std::move(suspect));
  }
  return {};
}

Result<LotRecall> Recalling::run() {
  recall_.lot = lot_;
  const auto entry = unit_.consumables().find(lot_);
  if (!entry) return entry.failure();
  recall_.known = entry->has_value();
  if (const auto ok = bar(); !ok) return ok.failure();
  if (const auto ok = find_earlier(); !ok) return ok.failure();
  if (const auto ok = call_back_judged(); !ok) return ok.failure();
  if (*entry) {
    if (const auto ok = call_back_packed(**entry); !ok) return ok.failure();
  }
  if (const auto ok = list(); !ok) return ok.failure();
  return recall_;
}

Result<void> check(const RecallLotRequest& request) {
  const auto bad = [](const char* field, const std::string& given) {
    return Failure{FailureCode::BadValue, {{"field", field}, {"given", given.substr(0, 60)}}, {}};
  };
  if (request.lot.empty() || request.lot.size() > kLongestLot) return bad("lot", request.lot);
  if (request.why.empty()) return Failure{FailureCode::ReasonMissing, {{"field", "why"}}, {}};
  if (request.why.size() > kLongestReason) return bad("why", request.why);
  return {};
}

}  // namespace

Result<LotRecall> recall_lot(const Ports& ports, const RecallLotRequest& request) {
  if (const auto ok = check(request); !ok) return ok.failure();
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = refuse_while_behind(*act); !ok) return ok.failure();
  auto recall = Recalling{ports, *act, request.lot, request.why}.run();
  if (!recall || !recall->added) return recall;
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return recall;
}

}  // namespace loadlight::app
