#include "app/rules_in_force.h"

namespace loadlight::app {

using core::Failure;
using core::FailureCode;
using core::Result;

Result<core::Profile> profile_in_force(const port::Unit& unit, const core::Office& office) {
  const core::Profile* profile = core::find_profile(office.profile);
  if (!profile) return Failure{FailureCode::RecordDamaged, {{"why", "profile " + office.profile}}, {}};
  const auto settings = unit.settings().all();
  if (!settings) return settings.failure();
  return core::with_settings(*profile, *settings);
}

Result<std::optional<core::Program>> program_in_force(const port::Unit& unit, std::string_view code,
                                                      std::string_view sterilizer) {
  if (const core::Program* row = core::find_program(code)) return std::optional{*row};
  const auto entered = unit.programs().find(code);
  if (!entered) return entered.failure();
  if (!*entered || (**entered).sterilizer != sterilizer) return std::optional<core::Program>{};
  const auto owner = unit.sterilizers().find(sterilizer);
  if (!owner) return owner.failure();
  if (!*owner) return std::optional<core::Program>{};
  return std::optional{core::program_of(**entered, **owner)};
}

}  // namespace loadlight::app
