#include "loadlight/app/queued_acts.h"

#include <algorithm>
#include <utility>

#include "loadlight/app/again.h"
#include "loadlight/app/check_packages.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::Reason;
using core::Result;
using port::QueuedAct;

// The moment of an act, once it is over. Its day is that of its own time, for nobody could have known a later one.
class ThatTime final : public port::Clock {
 public:
  explicit ThatTime(core::Instant at) : at_(at) {}
  core::Instant now() const override { return at_; }

 private:
  core::Instant at_;
};

template <class Details>
std::string detail_of(const Details& details, std::string_view name) {
  for (const auto& [key, value] : details) {
    if (key == name) return value;
  }
  return {};
}

std::string text_of(const std::vector<Reason>& reasons) {
  std::string text;
  for (const Reason reason : reasons) text += (text.empty() ? "" : " ") + std::string{core::to_text(reason)};
  return text;
}

std::vector<Reason> reasons_in(std::string_view text) {
  std::vector<Reason> reasons;
  for (const Reason reason : core::all_reasons()) {
    const std::string code{core::to_text(reason)};
    if ((" " + std::string{text} + " ").find(" " + code + " ") != std::string::npos) reasons.push_back(reason);
  }
  return reasons;
}

class QueueWriting final {
 public:
  explicit QueueWriting(const Ports& ports) : ports_(ports) {}

  // False: it was there.
  Result<bool> write(const QueuedAct& act);

  std::vector<ContradictedOpening> take_contradicted() { return std::exchange(contradicted_, {}); }

 private:
  Result<bool> write_in(port::Unit& unit, const QueuedAct& act);
  Result<void> write_opening(port::Unit& unit, const QueuedAct& act);
  Result<std::vector<Reason>> reasons_against(const port::Unit& unit, const QueuedAct& act);
  Result<void> write_contradiction(port::Unit& unit, const QueuedAct& act, std::vector<Reason> reasons);
  core::Change change_of(const QueuedAct& act) const;

  const Ports& ports_;
  std::vector<ContradictedOpening> contradicted_;
};

Result<bool> is_written(const port::Unit& unit, const QueuedAct& act) {
  const std::pair<std::string, EventKind> places[] = {{act.subject, act.kind},
                                                      {kOpeningsSubject, EventKind::OpeningContradicted}};
  for (const auto& [subject, kind] : places) {
    const auto events = unit.events_about(subject, kind);
    if (!events) return events.failure();
    const bool found = std::any_of(events->begin(), events->end(), [&](const port::PastEvent& event) {
      return detail_of(event.details, kQueuedDetail) == act.id;
    });
    if (found) return true;
  }
  return false;
}

// A clock that stood ahead then must not make the record's time run ahead now.
core::Change QueueWriting::change_of(const QueuedAct& act) const {
  core::Change change;
  change.kind = act.kind;
  change.at = std::min(act.at, ports_.clock.now());
  change.operator_code = act.operator_code;
  change.subject = act.subject;
  for (const auto& detail : act.details) {
    if (detail.first != kVisitDetail) change.details.push_back(detail);
  }
  change.details.emplace_back(kQueuedDetail, act.id);
  return change;
}

// As the record has it now, on the day of the opening. That its clock is behind the record is no wonder.
Result<std::vector<Reason>> QueueWriting::reasons_against(const port::Unit& unit, const QueuedAct& act) {
  const ThatTime clock{act.at};
  const Ports then{ports_.store, clock, ports_.zone, ports_.keyring};
  const auto reply = judge_item(then, unit, {CheckItem::How::TypedId, act.subject, std::nullopt});
  std::vector<Reason> reasons = reply.verdict.reasons();
  std::erase(reasons, Reason::ClockBehindRecord);
  if (!reply.verdict.has(Reason::RecordUnreachable)) return reasons;
  return Failure{core::FailureCode::OfficeUnreadable, {}, {}};
}

Result<void> QueueWriting::write_contradiction(port::Unit& unit, const QueuedAct& act, std::vector<Reason> reasons) {
  core::Change change = change_of(act);
  change.kind = EventKind::OpeningContradicted;
  change.subject = kOpeningsSubject;
  change.details.insert(change.details.begin(), {"package", act.subject});
  change.details.emplace_back("reasons", text_of(reasons));
  const std::string visit = detail_of(act.details, kVisitDetail);
  if (!visit.empty()) change.details.emplace_back(kVisitDetail, visit);
  contradicted_.push_back({act.subject, change.at, act.operator_code, visit, std::move(reasons)});
  return unit.write(change);
}

// One that is open already stays as it was opened first.
Result<void> QueueWriting::write_opening(port::Unit& unit, const QueuedAct& act) {
  auto reasons = reasons_against(unit, act);
  if (!reasons) return reasons.failure();
  const auto id = core::PackageId::parse_exact(act.subject);
  const auto package = id ? unit.packages().find(*id) : std::optional<core::Package>{};
  if (!package) return package.failure();
  if (*package && (**package).state != core::PackageState::Opened) {
    core::Change change = change_of(act);
    core::Package opened = **package;
    opened.state = core::PackageState::Opened;
    opened.opened_at = change.at;
    const std::string visit = detail_of(act.details, kVisitDetail);
    opened.visit = visit.empty() ? std::nullopt : std::optional{visit};
    change.records = {opened};
    if (auto written = unit.write(change); !written) return written;
  }
  return reasons->empty() ? Result<void>{} : write_contradiction(unit, act, std::move(*reasons));
}

Result<bool> QueueWriting::write_in(port::Unit& unit, const QueuedAct& act) {
  const auto there = is_written(unit, act);
  if (!there) return there.failure();
  if (*there) return false;
  auto written = act.kind == EventKind::PackageOpened ? write_opening(unit, act) : unit.write(change_of(act));
  if (!written) return written.failure();
  if (auto committed = unit.commit(); !committed) return committed.failure();
  return true;
}

Result<bool> QueueWriting::write(const QueuedAct& act) {
  const std::size_t before = contradicted_.size();
  return again_if_changed([&]() -> Result<bool> {
    contradicted_.resize(before);
    const auto unit = ports_.store.begin(port::Access::Write);
    if (!unit) return unit.failure();
    auto done = write_in(**unit, act);
    if (!done) contradicted_.resize(before);
    return done;
  });
}

}  // namespace

Result<QueueReply> write_queued(const Ports& ports) {
  QueueReply reply;
  if (!ports.copy) return reply;
  const auto waiting = ports.copy->queued();
  if (!waiting) return waiting.failure();
  QueueWriting writing{ports};
  std::vector<std::string> written;
  Result<void> whole;
  for (const QueuedAct& act : *waiting) {
    const auto done = writing.write(act);
    if (!done) whole = done.failure();
    if (!done) break;
    written.push_back(act.id);
    reply.written += *done ? 1 : 0;
  }
  reply.contradicted = writing.take_contradicted();
  if (!written.empty()) {
    if (const auto settled = ports.copy->settle(written); !settled) return settled.failure();
  }
  // What was written is told first; the rest is come back to.
  if (!whole && reply.written == 0) return whole.failure();
  return reply;
}

Result<std::vector<ContradictedOpening>> contradicted_openings(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto events = (*unit)->events_about(kOpeningsSubject, EventKind::OpeningContradicted);
  if (!events) return events.failure();
  std::vector<ContradictedOpening> list;
  for (const port::PastEvent& event : *events) {
    list.push_back({detail_of(event.details, "package"), event.at, event.operator_code,
                    detail_of(event.details, kVisitDetail), reasons_in(detail_of(event.details, "reasons"))});
  }
  return list;
}

}  // namespace loadlight::app
