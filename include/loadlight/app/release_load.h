// Use cases: decide a load, take a release back, call a load back, and show where a load stands.
#pragma once

#include <string>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/core/release_rules.h"
#include "loadlight/core/verdict.h"

namespace loadlight::app {

struct ReleaseRequest final {
  std::string operator_code;
  core::LoadName load;
  std::string emergency_why;  // filled: release though a biological result is awaited
  std::string second;         // the second person, needed for an emergency
};

struct LoadReply final {
  core::Load load;
  core::Verdict verdict = core::Verdict::against({});
};

// Judges and moves the load: released, quarantined (nothing but a biological result is awaited), failed
// (something weighs DoNotUse), or left as it is (something else holds). LoadWrongState when there is
// nothing to decide. An emergency is refused unless only a biological result is awaited. ReleaseNeedsLead and
// EmergencyNeedsLead where the profile leaves a release to leads; a load that cannot be released is failed or
// quarantined by anyone.
core::Result<LoadReply> release_load(const Ports& ports, const ReleaseRequest& request);

struct TakeBackRequest final {
  std::string operator_code;
  core::LoadName load;
  std::string why;
};
struct TakeBackReply final {
  core::Load load;
  std::vector<core::Package> opened_already;
};
core::Result<TakeBackReply> revoke_release(const Ports& ports, const TakeBackRequest& request);
core::Result<TakeBackReply> recall_load(const Ports& ports, const TakeBackRequest& request);

struct LoadView final {
  core::Load load;
  core::Verdict verdict = core::Verdict::against({});
  std::vector<core::Package> packages;  // whose labels name it
  std::vector<core::IndicatorReading> indicators;
  std::vector<core::BiologicalRun> biological_runs;
  std::vector<core::BiologicalReading> biologicals;
  std::vector<core::CriterionResult> criteria;  // the mechanical evidence, line by line
  std::string profile;                          // in force now: Profile::text()
  core::Decider release_by = core::Decider::Lead;  // whose decision a release would be
  core::Decider emergency_by = core::Decider::Lead;
  std::optional<core::Program> program;
  std::optional<core::CycleFindings> log;  // what the cycle log in force showed
};
core::Result<LoadView> show_load(const Ports& ports, const core::LoadName& name);

}  // namespace loadlight::app
