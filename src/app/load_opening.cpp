#include "app/load_opening.h"

#include "app/load_facts.h"
#include "app/load_moves.h"
#include "app/rules_in_force.h"
#include "loadlight/app/load_openings.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

Result<std::string> known_programs(const port::Unit& unit, const core::Sterilizer& sterilizer) {
  const auto entered = unit.programs().all();
  if (!entered) return entered.failure();
  std::string known;
  for (const auto& each : *entered) {
    if (each.sterilizer == sterilizer.code && !each.retired_on)
      known += (known.empty() ? "" : ", ") + each.code;
  }
  for (const auto& each : core::all_programs()) {
    if (core::can_run(sterilizer, each)) known += (known.empty() ? "" : ", ") + each.code;
  }
  return known;
}

Result<core::DailyTest> daily_test_now(const port::Unit& unit, const core::Sterilizer& sterilizer,
                                       core::CivilDate today) {
  const auto office = unit.office();
  if (!office) return office.failure();
  const auto profile = profile_in_force(unit, *office);
  if (!profile) return profile.failure();
  const auto highest = unit.loads().highest_run(sterilizer.code);
  if (!highest) return highest.failure();
  return daily_test_before(unit, *profile, sterilizer, today, *highest + 1);
}

Result<std::vector<ProgramChoice>> programs_of(const port::Unit& unit, const core::Sterilizer& sterilizer) {
  const auto entered = unit.programs().all();
  if (!entered) return entered.failure();
  std::vector<std::pair<std::string, std::string>> candidates;  // codes and names
  for (const auto& each : *entered) candidates.emplace_back(each.code, each.name);
  for (const auto& each : core::all_programs()) candidates.emplace_back(each.code, "");
  std::vector<ProgramChoice> choices;
  for (auto& [code, name] : candidates) {
    const auto program = runnable_program(unit, sterilizer, code);
    if (program) choices.push_back({*program, std::move(name)});
    const bool refused = program || core::kind_of(program.failure().code) == core::FailureKind::Refused;
    if (!refused) return program.failure();
  }
  return choices;
}

}  // namespace

Result<core::LoadName> next_load_name(const port::Unit& unit, const std::string& sterilizer) {
  const auto reserved = unit.loads().first_reserved(sterilizer);
  if (!reserved) return reserved.failure();
  if (*reserved) return (**reserved).name;
  const auto highest = unit.loads().highest_number(sterilizer);
  if (!highest) return highest.failure();
  return core::LoadName{sterilizer, *highest + 1};
}

Result<core::Program> runnable_program(const port::Unit& unit, const core::Sterilizer& sterilizer,
                                       const std::string& code) {
  const auto found = program_in_force(unit, code, sterilizer.code);
  if (!found) return found.failure();
  const core::Details details{{"program", code}, {"sterilizer", sterilizer.code}};
  if (!*found) {
    const auto known = known_programs(unit, sterilizer);
    if (!known) return known.failure();
    return Failure{FailureCode::ProgramUnknown, {{"program", code}, {"known", *known}}, {}};
  }
  const core::Program& program = **found;
  const bool for_wrapped = program.load_kind != core::LoadKind::Any;
  if (!core::can_run(sterilizer, program) || (sterilizer.type == core::SterilizerType::N && for_wrapped)) {
    return Failure{FailureCode::ProgramNotAllowed, details, {}};
  }
  const auto entered = unit.programs().find(code);
  if (!entered) return entered.failure();
  if (*entered && (**entered).retired_on) {
    return Failure{FailureCode::CodeRetired, {{"table", "program"}, {"code", code}}, {}};
  }
  if (!program.accepted) return Failure{FailureCode::ProgramNotAccepted, details, {}};
  return program;
}

Result<LoadOpenings> load_openings(const Ports& ports, const std::string& sterilizer) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto row = known_sterilizer(**unit, sterilizer);
  if (!row) return row.failure();
  const auto next = next_load_name(**unit, sterilizer);
  if (!next) return next.failure();
  auto programs = programs_of(**unit, *row);
  if (!programs) return programs.failure();
  const auto test = daily_test_now(**unit, *row, ports.zone.local_date(ports.clock.now()));
  if (!test) return test.failure();
  return LoadOpenings{*next, std::move(*programs), *test};
}

}  // namespace loadlight::app
