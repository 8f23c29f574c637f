#include "loadlight/app/accept_clock.h"

#include <algorithm>

#include "app/clock_trust.h"
#include "loadlight/app/act.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

// What people's comings or goings the record tells of that lie ahead of the clock.
Result<std::vector<port::FoundEvent>> later_events(const Act& act, core::EventKind kind) {
  auto events = act.unit->find_events({{}, kind, {}});
  if (!events) return events;
  std::erase_if(*events, [&act](const port::FoundEvent& event) { return event.at <= act.now; });
  return events;
}

// Several people who were added together are told of in one event, by their codes with blanks between.
bool is_told(const std::vector<port::FoundEvent>& events, const std::string& code, core::CivilDate day,
             const port::Zone& zone) {
  return std::any_of(events.begin(), events.end(), [&](const port::FoundEvent& event) {
    return (" " + event.subject + " ").find(" " + code + " ") != std::string::npos &&
           zone.local_date(event.at) == day;
  });
}

// Who came or went while the clock stood ahead came or went by today: nobody waits outside for a day that the
// clock made up, and nobody who left works on until it.
Result<std::vector<core::Record>> days_put_right(const Act& act, const port::Zone& zone) {
  const auto came = later_events(act, core::EventKind::OperatorAdded);
  if (!came) return came.failure();
  const auto went = later_events(act, core::EventKind::OperatorRetired);
  if (!went) return went.failure();
  const auto operators = act.unit->operators().all();
  if (!operators) return operators.failure();
  std::vector<core::Record> records;
  for (const core::Operator& as_is : *operators) {
    core::Operator who = as_is;
    if (who.first_day > act.today && is_told(*came, who.code, who.first_day, zone)) who.first_day = act.today;
    if (who.last_day > act.today && is_told(*went, who.code, *who.last_day, zone)) who.last_day = act.today;
    if (who != as_is) records.emplace_back(who);
  }
  return records;
}

}  // namespace

Result<ClockView> show_clock(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto office = (*unit)->office();
  if (!office) return office.failure();
  const auto newest = (*unit)->newest_event();
  if (!newest) return newest.failure();
  const core::Instant now = ports.clock.now();
  const auto behind = is_clock_behind(**unit, *office, now);
  if (!behind) return behind.failure();
  return ClockView{now, *newest, *behind, now < core::kProgramMade};
}

Result<long long> accept_clock(const Ports& ports, const ClockRequest& request) {
  if (request.why.empty()) return Failure{FailureCode::ReasonMissing, {{"field", "why"}}, {}};
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = require_lead(act->who); !ok) return ok.failure();
  if (act->now < core::kProgramMade) {
    return Failure{FailureCode::BadValue, {{"field", "clock"}, {"given", core::to_text(act->now)}}, {}};
  }
  const auto newest = act->unit->newest_event();
  if (!newest) return newest.failure();
  const long long ahead = *newest ? std::max<long long>(0, (**newest - act->now).count()) : 0;
  const auto doubts =
      doubts_when_accepted(ports.store, act->now, core::Minutes{act->office.clock_tolerance_minutes});
  if (!doubts) return doubts.failure();
  auto records = days_put_right(*act, ports.zone);
  if (!records) return records.failure();
  core::Details details{{"why", request.why}, {"ahead-ms", std::to_string(ahead)}};
  for (const core::ClockDoubt& doubt : *doubts) details.emplace_back("doubt", core::to_text(doubt));
  const auto written = act->write(core::EventKind::ClockCorrected, kClockSubject, std::move(*records), details);
  if (!written) return written.failure();
  if (const auto ok = act->unit->commit(); !ok) return ok.failure();
  return ahead;
}

}  // namespace loadlight::app
