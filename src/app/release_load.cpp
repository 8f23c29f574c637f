#include "loadlight/app/release_load.h"

#include <algorithm>

#include "app/load_moves.h"
#include "loadlight/core/profiles.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::LoadMove;
using core::Outcome;
using core::Reason;
using core::Result;
using core::Verdict;

// Adds what the packages and loose items of a load are; a row that is missing leaves its fact absent.
Result<void> look_aboard(const port::Unit& unit, const core::Load& load, core::LoadFacts& facts) {
  const auto packages = unit.packages().of_load(load.name);
  if (!packages) return packages.failure();
  bool wrapped = false, hollow = false, implant = load.implant_aboard;
  int wet = 0;
  const auto add_contents = [&](const std::string& code) -> Result<bool> {
    const auto contents = unit.contents().find(code);
    if (!contents) return contents.failure();
    if (!*contents) return false;
    hollow = hollow || (**contents).hollow;
    implant = implant || (**contents).implant;
    return true;
  };
  for (const core::Package& package : *packages) {
    wet += package.withdrawn_because == core::WithdrawReason::Wet;
    if (package.state == core::PackageState::Labelled || package.state == core::PackageState::Void) continue;
    const auto kind = unit.kinds().find(package.kind);
    if (!kind) return kind.failure();
    const auto known = add_contents(package.contents);
    if (!known) return known.failure();
    if (!*kind || !*known) return {};
    wrapped = wrapped || core::is_wrapped((**kind).wrapping);
  }
  for (const core::LooseItems& line : load.loose_items) {
    const auto known = add_contents(line.contents);
    if (!known) return known.failure();
    if (!*known) return {};
  }
  facts.holds_wrapped = wrapped;
  facts.holds_hollow = hollow;
  facts.holds_implant = implant;
  facts.wet_packages = wet;
  return {};
}

Result<core::LoadFacts> facts_of(const Ports& ports, const port::Unit& unit, const core::Load& load) {
  core::LoadFacts facts;
  facts.state = load.state;
  facts.purpose = load.purpose;
  if (const core::Program* program = core::find_program(load.program)) facts.program = *program;
  const auto sterilizer = unit.sterilizers().find(load.name.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  if (*sterilizer) {
    facts.removal = (**sterilizer).removal;
    facts.type = (**sterilizer).type;
    facts.in_service = (**sterilizer).in_service;
  }
  if (const auto ok = look_aboard(unit, load, facts); !ok) return ok.failure();
  facts.readings = load.readings;
  const auto indicators = unit.evidence().indicators_of(load.name);
  if (!indicators) return indicators.failure();
  const auto biologicals = unit.evidence().biologicals_of(load.name);
  if (!biologicals) return biologicals.failure();
  facts.indicators = *indicators;
  facts.biologicals = *biologicals;
  facts.process_date = load.process_date;
  const auto office = unit.office();
  if (!office) return office.failure();
  const auto behind = is_clock_behind(unit, *office, ports.clock.now());
  if (!behind) return behind.failure();
  facts.clock_behind = *behind;
  return facts;
}

bool only_awaits_biological(const Verdict& verdict) {
  return verdict.reasons() == std::vector<Reason>{Reason::BiologicalAwaited};
}

Result<void> check_second(const Act& act, const std::string& second) {
  if (second.empty()) return Failure{FailureCode::ReasonMissing, {{"field", "second"}}, {}};
  const auto who = act.unit->operators().find(second);
  if (!who) return who.failure();
  if (!*who) return Failure{FailureCode::OperatorUnknown, {{"operator", second}}, {}};
  if (second == act.who.code || !(**who).current_on(act.today)) {
    return Failure{FailureCode::OperatorNotCurrent, {{"operator", second}, {"date", act.today.iso()}}, {}};
  }
  return {};
}

std::vector<std::pair<std::string, std::string>> decision_details(const Act& act, const Verdict& verdict) {
  const core::Profile* profile = core::find_profile(act.office.profile);
  std::string reasons;
  for (Reason reason : verdict.reasons()) {
    reasons += (reasons.empty() ? "" : " ") + std::string{core::to_text(reason)};
  }
  return {{"outcome", std::string{core::to_text(verdict.outcome())}},
          {"reasons", reasons},
          {"profile", act.office.profile},
          {"profile-version", profile ? std::to_string(profile->version) : ""}};
}

Result<LoadReply> decide(const Act& act, const core::Load& load, const Verdict& verdict, LoadMove move,
                         EventKind kind) {
  auto decided = moved(load, move);
  if (!decided) return decided.failure();
  decided->decided_at = act.now;
  decided->decided_by = act.who.code;
  const auto written = write_load(act, kind, *decided, {}, decision_details(act, verdict));
  if (!written) return written.failure();
  return LoadReply{*written, verdict};
}

Result<TakeBackReply> take_back(const Ports& ports, const TakeBackRequest& request, LoadMove move,
                                EventKind kind) {
  if (request.why.empty()) return Failure{FailureCode::ReasonMissing, {{"field", "why"}}, {}};
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto found = find_load(*act->unit, request.load);
  if (!found) return found.failure();
  const auto load = moved(*found, move);
  if (!load) return load.failure();
  auto packages = act->unit->packages().of_load(load->name);
  if (!packages) return packages.failure();
  std::erase_if(*packages, [](const auto& p) { return p.state != core::PackageState::Opened; });
  const auto written = write_load(*act, kind, *load, {}, {{"why", request.why}});
  if (!written) return written.failure();
  return TakeBackReply{*written, *packages};
}

}  // namespace

Result<LoadReply> release_load(const Ports& ports, const ReleaseRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto load = find_load(*act->unit, request.load);
  if (!load) return load.failure();
  const bool undecided = core::awaits_decision(load->state) || load->state == core::LoadState::Running ||
                         load->state == core::LoadState::Aborted;
  if (!undecided) return wrong_state(*load);
  const auto facts = facts_of(ports, *act->unit, *load);
  if (!facts) return facts.failure();
  const Verdict verdict = core::judge_release(*facts);
  if (verdict.outcome() == Outcome::Clear) {
    return decide(*act, *load, verdict, LoadMove::Release, EventKind::LoadReleased);
  }
  if (!core::awaits_decision(load->state)) return LoadReply{*load, verdict};
  if (only_awaits_biological(verdict)) {
    if (request.emergency_why.empty()) {
      if (load->state == core::LoadState::Quarantined) return LoadReply{*load, verdict};
      return decide(*act, *load, verdict, LoadMove::Quarantine, EventKind::LoadQuarantined);
    }
    if (const auto ok = check_second(*act, request.second); !ok) return ok.failure();
    load->emergency_reason = request.emergency_why;
    load->emergency_second = request.second;
    return decide(*act, *load, verdict.with(core::Note::ReleasedAsEmergency), LoadMove::Release,
                  EventKind::LoadReleased);
  }
  if (verdict.outcome() == Outcome::DoNotUse) {
    return decide(*act, *load, verdict, LoadMove::Fail, EventKind::LoadFailed);
  }
  return LoadReply{*load, verdict};
}

Result<TakeBackReply> revoke_release(const Ports& ports, const TakeBackRequest& request) {
  return take_back(ports, request, LoadMove::Revoke, EventKind::ReleaseRevoked);
}

Result<TakeBackReply> recall_load(const Ports& ports, const TakeBackRequest& request) {
  return take_back(ports, request, LoadMove::Recall, EventKind::LoadRecalled);
}

Result<LoadView> show_load(const Ports& ports, const core::LoadName& name) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto load = find_load(**unit, name);
  if (!load) return load.failure();
  const auto facts = facts_of(ports, **unit, *load);
  if (!facts) return facts.failure();
  auto packages = (**unit).packages().of_load(name);
  if (!packages) return packages.failure();
  Verdict verdict =
      core::awaits_decision(load->state) ? core::judge_release(*facts) : core::verdict_of_state(load->state);
  // Evidence that is whole is not yet a release: a person decides.
  if (verdict.outcome() == Outcome::Clear && load->state != core::LoadState::Released) {
    verdict = core::verdict_of_state(load->state);
  }
  if (!load->emergency_reason.empty()) verdict = verdict.with(core::Note::ReleasedAsEmergency);
  return LoadView{*load, verdict, std::move(*packages), facts->indicators, facts->biologicals};
}

}  // namespace loadlight::app
