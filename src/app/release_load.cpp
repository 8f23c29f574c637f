#include "loadlight/app/release_load.h"

#include <algorithm>
#include <locale>
#include <sstream>

#include "app/load_facts.h"
#include "app/load_moves.h"
#include "app/release_permission.h"

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

// "exposure 4.5 min, margin 0.5, at least 4: met (source)".
std::string text_of(const core::CriterionResult& line) {
  std::ostringstream text;
  text.imbue(std::locale::classic());
  text << line.code << ' ';
  if (line.measured) text << *line.measured << ' ' << line.unit;
  if (line.margin) text << ", margin " << *line.margin;
  text << (line.at_least ? ", at least " : ", at most ") << line.limit << ": " << core::to_text(line.standing)
       << " (" << line.source << ')';
  return text.str();
}

bool only_awaits_biological(const Verdict& verdict) {
  return verdict.reasons() == std::vector<Reason>{Reason::BiologicalAwaited};
}

// Everything the decision stood on: the profile with its version, and every line of the evidence.
std::vector<std::pair<std::string, std::string>> decision_details(const core::LoadFacts& facts,
                                                                  const Verdict& verdict) {
  std::string reasons;
  for (Reason reason : verdict.reasons()) {
    reasons += (reasons.empty() ? "" : " ") + std::string{core::to_text(reason)};
  }
  std::vector<std::pair<std::string, std::string>> details{
      {"outcome", std::string{core::to_text(verdict.outcome())}},
      {"reasons", reasons},
      {"profile", facts.profile ? facts.profile->text() : ""},
      {"program", facts.program ? facts.program->code + ": " + facts.program->source : ""}};
  for (const core::CriterionResult& line : core::mechanical_criteria(facts)) {
    details.emplace_back("criterion", text_of(line));
  }
  return details;
}

struct Decision final {
  LoadMove move;
  EventKind kind;
};
constexpr Decision kRelease{LoadMove::Release, EventKind::LoadReleased};
constexpr Decision kQuarantine{LoadMove::Quarantine, EventKind::LoadQuarantined};
constexpr Decision kFail{LoadMove::Fail, EventKind::LoadFailed};

Result<LoadReply> decide(const Act& act, const core::Load& load, const core::LoadFacts& facts,
                         const Verdict& verdict, const Decision& decision) {
  auto decided = moved(load, decision.move);
  if (!decided) return decided.failure();
  decided->decided_at = act.now;
  decided->decided_by = act.who.code;
  const auto written = write_load(act, decision.kind, *decided, {}, decision_details(facts, verdict));
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
  const auto facts = facts_of(*act->unit, *load, act->now);
  if (!facts) return facts.failure();
  const Verdict verdict = core::judge_release(*facts);
  if (verdict.outcome() == Outcome::Clear) {
    if (const auto may = may_release(*act, facts->profile); !may) return may.failure();
    return decide(*act, *load, *facts, verdict, kRelease);
  }
  if (!core::awaits_decision(load->state)) return LoadReply{*load, verdict};
  if (only_awaits_biological(verdict)) {
    if (request.emergency_why.empty()) {
      if (load->state == core::LoadState::Quarantined) return LoadReply{*load, verdict};
      return decide(*act, *load, *facts, verdict, kQuarantine);
    }
    const auto may = may_release_early(*act, facts->profile, request.second);
    if (!may) return may.failure();
    load->emergency_reason = request.emergency_why;
    load->emergency_second = request.second;
    return decide(*act, *load, *facts, verdict.with(core::Note::ReleasedAsEmergency), kRelease);
  }
  if (verdict.outcome() == Outcome::DoNotUse) {
    return decide(*act, *load, *facts, verdict, kFail);
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
  const auto facts = facts_of(**unit, *load, ports.clock.now());
  if (!facts) return facts.failure();
  auto packages = (**unit).packages().of_load(name);
  if (!packages) return packages.failure();
  Verdict verdict =
      core::awaits_decision(load->state) ? core::judge_release(*facts) : core::verdict_of_state(load->state);
  // Evidence that is whole is not yet a release: a person decides.
  if (verdict.outcome() == Outcome::Clear && load->state != core::LoadState::Released) {
    verdict = core::verdict_of_state(load->state);
  }
  for (const core::Note note : core::release_notes(*facts)) verdict = verdict.with(note);
  if (!load->emergency_reason.empty()) verdict = verdict.with(core::Note::ReleasedAsEmergency);
  return LoadView{*load,
                  verdict,
                  std::move(*packages),
                  facts->indicators,
                  facts->biological_runs,
                  facts->biologicals,
                  core::mechanical_criteria(*facts),
                  facts->profile ? facts->profile->text() : "",
                  facts->profile ? facts->profile->release_by : core::Decider::Lead,
                  facts->profile ? facts->profile->emergency_by : core::Decider::Lead,
                  facts->program,
                  facts->log};
}

}  // namespace loadlight::app
