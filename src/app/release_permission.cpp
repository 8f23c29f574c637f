#include "app/release_permission.h"

namespace loadlight::app {
namespace {

using core::Decider;
using core::Failure;
using core::FailureCode;
using core::Operator;
using core::Result;
using core::Role;

Result<Operator> second_person(const Act& act, const std::string& code) {
  if (code.empty()) return Failure{FailureCode::ReasonMissing, {{"field", "second"}}, {}};
  const auto who = act.unit->operators().find(code);
  if (!who) return who.failure();
  if (!*who) return Failure{FailureCode::OperatorUnknown, {{"operator", code}}, {}};
  if (code == act.who.code || !(**who).current_on(act.today)) {
    return Failure{FailureCode::OperatorNotCurrent, {{"operator", code}, {"date", act.today.iso()}}, {}};
  }
  return **who;
}

}  // namespace

Result<void> may_release(const Act& act, const std::optional<core::Profile>& profile) {
  const bool anyone = profile && profile->release_by == Decider::Anyone;
  if (anyone || act.who.role == Role::Lead) return {};
  return Failure{FailureCode::ReleaseNeedsLead, {{"operator", act.who.code}}, {}};
}

Result<void> may_release_early(const Act& act, const std::optional<core::Profile>& profile,
                               const std::string& second) {
  const auto other = second_person(act, second);
  if (!other) return other.failure();
  if (const auto may = may_release(act, profile); !may) return may.failure();
  const bool anyone = profile && profile->emergency_by == Decider::Anyone;
  if (anyone || act.who.role == Role::Lead || other->role == Role::Lead) return {};
  return Failure{FailureCode::EmergencyNeedsLead, {{"operator", act.who.code}, {"second", second}}, {}};
}

}  // namespace loadlight::app
