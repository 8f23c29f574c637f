#include "loadlight/app/act.h"

#include "app/clock_trust.h"

namespace loadlight::app {

using core::Failure;
using core::FailureCode;
using core::Result;

Result<void> Act::write(core::EventKind kind, std::string subject, std::vector<core::Record> records,
                        std::vector<std::pair<std::string, std::string>> details) const {
  return unit->write(
      core::Change{kind, now, who.code, std::move(subject), std::move(details), std::move(records)});
}

Result<bool> is_clock_behind(const port::Unit& unit, const core::Office& office, core::Instant now) {
  const auto newest = unit.newest_event();
  if (!newest) return newest.failure();
  if (now < core::kProgramMade) return true;
  return *newest && now + core::Minutes{office.clock_tolerance_minutes} < **newest;
}

Result<Act> begin_act(const Ports& ports, std::string_view operator_code) {
  if (operator_code.empty()) return Failure{FailureCode::OperatorMissing, {}, {}};
  auto unit = ports.store.begin(port::Access::Write);
  if (!unit) return unit.failure();
  const auto office = (*unit)->office();
  if (!office) return office.failure();
  const auto who = (*unit)->operators().find(operator_code);
  if (!who) return who.failure();
  const core::Instant now = ports.clock.now();
  const core::CivilDate today = ports.zone.local_date(now);
  if (!*who) return Failure{FailureCode::OperatorUnknown, {{"operator", std::string{operator_code}}}, {}};
  const auto works = works_here(ports, **unit, **who);
  if (!works) return works.failure();
  if (!*works) {
    return Failure{FailureCode::OperatorNotCurrent,
                   {{"operator", std::string{operator_code}}, {"date", today.iso()}},
                   {}};
  }
  const auto behind = is_clock_behind(**unit, *office, now);
  if (!behind) return behind.failure();
  return Act{std::move(*unit), *office, **who, now, today, *behind};
}

Result<bool> works_here(const Ports& ports, const port::Unit& unit, const core::Operator& who) {
  const auto known = latest_day(ports, unit);
  if (!known) return known.failure();
  core::Operator begun = who;
  if (begun.first_day <= *known) begun.first_day = *core::CivilDate::from(1900, 1, 1);
  return begun.current_on(ports.zone.local_date(ports.clock.now()));
}

Result<void> refuse_while_behind(const Act& act) {
  if (!act.clock_behind) return {};
  return Failure{FailureCode::ClockBehindRecord, {}, {}};
}

Result<void> require_lead(const core::Operator& who) {
  if (who.role == core::Role::Lead) return {};
  return Failure{FailureCode::LeadRequired, {{"operator", who.code}}, {}};
}

}  // namespace loadlight::app
