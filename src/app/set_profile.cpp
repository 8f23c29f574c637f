#include "loadlight/app/set_profile.h"

#include <algorithm>

#include "app/rules_in_force.h"
#include "loadlight/app/act.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

std::string source_of(const core::Profile& profile, std::string_view name) {
  for (const core::ProfileValue& row : core::all_profile_values()) {
    if (row.profile == profile.code && row.name == name) return std::string{row.source};
  }
  return {};
}

Result<ProfileView> view_of(const port::Unit& unit, const core::Office& office) {
  const auto profile = profile_in_force(unit, office);
  if (!profile) return profile.failure();
  const auto settings = unit.settings().all();
  if (!settings) return settings.failure();
  ProfileView view{profile->text(), {}};
  for (const std::string_view name : core::profile_value_names()) {
    ProfileLine line{std::string{name}, core::value_of(*profile, name), source_of(*profile, name), false};
    for (const core::OfficeSetting& setting : *settings) {
      if (setting.name != name) continue;
      line.own = true;
      line.source = setting.why + " (" + setting.set_by + ")";
    }
    view.lines.push_back(std::move(line));
  }
  return view;
}

std::string known_names() {
  std::string known;
  for (const std::string_view name : core::profile_value_names()) {
    known += (known.empty() ? "" : ", ") + std::string{name};
  }
  return known;
}

Result<void> check(const SettingRequest& request) {
  core::Profile trial;
  const auto names = core::profile_value_names();
  if (std::find(names.begin(), names.end(), request.name) == names.end()) {
    return Failure{FailureCode::BadValue,
                   {{"field", "name"}, {"given", request.name.substr(0, 60) + " (" + known_names() + ")"}},
                   {}};
  }
  if (!core::set_value(trial, request.name, request.value)) {
    return Failure{
        FailureCode::BadValue, {{"field", request.name}, {"given", request.value.substr(0, 60)}}, {}};
  }
  if (request.why.empty()) return Failure{FailureCode::ReasonMissing, {{"field", "why"}}, {}};
  return {};
}

}  // namespace

Result<ProfileView> show_profile(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto office = (**unit).office();
  if (!office) return office.failure();
  return view_of(**unit, *office);
}

Result<ProfileView> set_profile_value(const Ports& ports, const SettingRequest& request) {
  if (const auto ok = check(request); !ok) return ok.failure();
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = require_lead(act->who); !ok) return ok.failure();
  const core::OfficeSetting setting{request.name, request.value, request.why, act->who.code, act->now};
  const auto written = act->write(core::EventKind::SettingChanged, request.name, {setting},
                                  {{"why", request.why}, {"value", request.value}});
  if (!written) return written.failure();
  auto view = view_of(*act->unit, act->office);
  if (!view) return view;
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return view;
}

Result<core::OfficeProgram> accept_program(const Ports& ports, const AcceptProgramRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = require_lead(act->who); !ok) return ok.failure();
  const auto found = act->unit->programs().find(request.program);
  if (!found) return found.failure();
  if (!*found) {
    return Failure{FailureCode::CodeUnknown, {{"table", "program"}, {"code", request.program}}, {}};
  }
  core::OfficeProgram program = **found;
  program.accepted_by = act->who.code;
  const auto written = act->write(core::EventKind::ProgramAccepted, program.code, {program});
  if (!written) return written.failure();
  if (const auto committed = act->unit->commit(); !committed) return committed.failure();
  return program;
}

}  // namespace loadlight::app
