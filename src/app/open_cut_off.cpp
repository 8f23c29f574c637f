#include "app/open_cut_off.h"

#include "app/copy_judging.h"
#include "loadlight/app/act.h"
#include "loadlight/app/queued_acts.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Result;

Result<void> must_work_here(const Ports& ports, const port::Unit& unit, const std::string& code) {
  if (code.empty()) return Failure{FailureCode::OperatorMissing, {}, {}};
  const auto who = unit.operators().find(code);
  if (!who) return who.failure();
  if (!*who) return Failure{FailureCode::OperatorUnknown, {{"operator", code}}, {}};
  const auto works = works_here(ports, unit, **who);
  if (!works) return works.failure();
  if (*works) return {};
  const core::CivilDate today = ports.zone.local_date(ports.clock.now());
  return Failure{FailureCode::OperatorNotCurrent, {{"operator", code}, {"date", today.iso()}}, {}};
}

// A refusal leaves its trace like any other check.
Result<OpenReply> refuse(const Ports& ports, const OpenRequest& request, OpenReply reply, const Failure& why) {
  if (!reply.check.package) return reply;
  auto act = act_to_queue(ports, EventKind::PackageChecked, request.operator_code, *reply.check.package,
                          *reply.check.from_copy);
  act.details.emplace_back("at", "open");
  act.details.emplace_back("outcome", core::to_text(reply.check.verdict.outcome()));
  const auto queued = ports.copy->queue(act, reply.check.from_copy->taken);
  if (!queued) return queued.failure();
  if (!*queued) return why;
  return reply;
}

Result<OpenReply> lay_by(const Ports& ports, const OpenRequest& request, OpenReply reply, const Failure& why) {
  auto act = act_to_queue(ports, EventKind::PackageOpened, request.operator_code, *reply.check.package,
                          *reply.check.from_copy);
  for (auto& detail : eyes_details(request)) act.details.push_back(std::move(detail));
  if (request.visit) act.details.emplace_back(kVisitDetail, *request.visit);
  const auto queued = ports.copy->queue(act, reply.check.from_copy->taken);
  if (!queued) return queued.failure();
  if (!*queued) return why;  // another was quicker, here or in the record
  reply.outcome = OpenOutcome::Opened;
  return reply;
}

}  // namespace

Result<OpenReply> open_cut_off(const Ports& ports, const OpenRequest& request, const Failure& why) {
  const auto copy = stand_in(ports, why);
  if (!copy) return copy.failure();
  if (const auto works = must_work_here(ports, copy->unit(), request.operator_code); !works) return works.failure();
  CheckRequest check{{item_for(request.package)}, request.operator_code, {}};
  const auto replies = judge_by_copy(ports, *copy, check);
  if (replies.size() != 1) return why;
  const OpenReply reply{OpenOutcome::Refused, replies.front()};
  if (!eyes_say_yes(request) || !request.already_opened_why.empty()) return why;
  if (reply.check.verdict.outcome() != core::Outcome::Clear) return refuse(ports, request, reply, why);
  return lay_by(ports, request, reply, why);
}

}  // namespace loadlight::app
