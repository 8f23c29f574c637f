#include "app/load_moves.h"

#include "app/rules_in_force.h"

namespace loadlight::app {

using core::Failure;
using core::FailureCode;
using core::Result;

Result<core::Load> find_load(const port::Unit& unit, const core::LoadName& name) {
  const auto load = unit.loads().find(name);
  if (!load) return load.failure();
  if (!*load) return Failure{FailureCode::LoadUnknown, {{"load", name.text()}}, {}};
  return **load;
}

Failure wrong_state(const core::Load& load) {
  return Failure{FailureCode::LoadWrongState,
                 {{"load", load.name.text()}, {"state", std::string{core::to_text(load.state)}}},
                 {}};
}

Result<core::Load> moved(core::Load load, core::LoadMove move) {
  const auto state = core::after(load.state, move);
  if (!state) return wrong_state(load);
  load.state = *state;
  return load;
}

Result<bool> takes_late_labels(const port::Unit& unit, const core::Office& office, core::CivilDate today,
                               const core::Load& load) {
  const bool may_still_be_used =
      core::awaits_decision(load.state) || load.state == core::LoadState::Released;
  if (!may_still_be_used || load.process_date != today) return false;
  const auto sterilizer = unit.sterilizers().find(load.name.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  const auto profile = profile_in_force(unit, office);
  if (!profile) return profile.failure();
  return *sterilizer && (**sterilizer).type == core::SterilizerType::N &&
         profile->type_n_packing == core::TypeNPacking::AfterProgram;
}

Result<NumberForLabels> number_for_labels(const Act& act, const core::LoadName& name) {
  const auto load = act.unit->loads().find(name);
  if (!load) return load.failure();
  if (*load) {
    if ((**load).purpose != core::LoadPurpose::Process) {
      return Failure{FailureCode::LoadTakesNoPackages, {{"load", name.text()}}, {}};
    }
    if (core::is_before_start((**load).state)) return NumberForLabels{**load, false, false};
    const auto late = takes_late_labels(*act.unit, act.office, act.today, **load);
    if (!late) return late.failure();
    if (!*late) return wrong_state(**load);
    return NumberForLabels{**load, false, true};
  }
  const auto highest = act.unit->loads().highest_number(name.sterilizer);
  if (!highest) return highest.failure();
  if (name.number != *highest + 1) {
    return Failure{FailureCode::LoadNumberOutOfSequence,
                   {{"load", name.text()},
                    {"next", core::LoadName{name.sterilizer, *highest + 1}.text()}},
                   {}};
  }
  core::Load reserved;
  reserved.name = name;
  return NumberForLabels{reserved, true, false};
}

Result<core::Sterilizer> known_sterilizer(const port::Unit& unit, const std::string& code) {
  const auto sterilizer = unit.sterilizers().find(code);
  if (!sterilizer) return sterilizer.failure();
  const core::Details details{{"table", "sterilizer"}, {"code", code}};
  if (!*sterilizer) return Failure{FailureCode::CodeUnknown, details, {}};
  if ((**sterilizer).retired_on) return Failure{FailureCode::CodeRetired, details, {}};
  return **sterilizer;
}

Result<core::Sterilizer> usable_sterilizer(const port::Unit& unit, const std::string& code) {
  auto sterilizer = known_sterilizer(unit, code);
  if (sterilizer && !sterilizer->in_service) {
    return Failure{FailureCode::SterilizerOutOfService, {{"table", "sterilizer"}, {"code", code}}, {}};
  }
  return sterilizer;
}

Result<std::vector<core::Package>> packages_aboard(const port::Unit& unit, const core::LoadName& name) {
  auto packages = unit.packages().of_load(name);
  if (!packages) return packages;
  std::erase_if(*packages,
                [](const core::Package& p) { return p.state != core::PackageState::Loaded; });
  return packages;
}

Result<core::Load> write_load(const Act& act, core::EventKind kind, core::Load load,
                              std::vector<core::Record> more,
                              std::vector<std::pair<std::string, std::string>> details) {
  std::vector<core::Record> records{load};
  records.insert(records.end(), more.begin(), more.end());
  const auto written = act.write(kind, load.name.text(), std::move(records), std::move(details));
  if (!written) return written.failure();
  if (const auto committed = act.unit->commit(); !committed) return committed.failure();
  return load;
}

}  // namespace loadlight::app
