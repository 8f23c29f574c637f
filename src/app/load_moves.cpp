#include "app/load_moves.h"

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

Result<NumberForLabels> number_for_labels(const port::Unit& unit, const core::LoadName& name) {
  const auto load = unit.loads().find(name);
  if (!load) return load.failure();
  if (*load) {
    if (!core::is_before_start((**load).state)) return wrong_state(**load);
    if ((**load).purpose != core::LoadPurpose::Process) {
      return Failure{FailureCode::LoadTakesNoPackages, {{"load", name.text()}}, {}};
    }
    return NumberForLabels{**load, false};
  }
  const auto highest = unit.loads().highest_number(name.sterilizer);
  if (!highest) return highest.failure();
  if (name.number != *highest + 1) {
    return Failure{FailureCode::LoadNumberOutOfSequence,
                   {{"load", name.text()},
                    {"next", core::LoadName{name.sterilizer, *highest + 1}.text()}},
                   {}};
  }
  core::Load reserved;
  reserved.name = name;
  return NumberForLabels{reserved, true};
}

Result<core::Sterilizer> usable_sterilizer(const port::Unit& unit, const std::string& code) {
  const auto sterilizer = unit.sterilizers().find(code);
  if (!sterilizer) return sterilizer.failure();
  const core::Details details{{"table", "sterilizer"}, {"code", code}};
  if (!*sterilizer) return Failure{FailureCode::CodeUnknown, details, {}};
  if ((**sterilizer).retired_on) return Failure{FailureCode::CodeRetired, details, {}};
  if (!(**sterilizer).in_service) return Failure{FailureCode::SterilizerOutOfService, details, {}};
  return **sterilizer;
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
