#include "loadlight/app/read_cycle_log.h"

#include "app/load_moves.h"
#include "app/rules_in_force.h"
#include "loadlight/core/cycle_text.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

std::string file_name(const std::string& path) {
  return path.substr(path.find_last_of('/') + 1);
}

// The load as it may take a log now.
Result<core::Load> load_for_log(const port::Unit& unit, const CycleLogRequest& request) {
  auto load = find_load(unit, request.load);
  if (!load) return load;
  if (!core::awaits_decision(load->state)) return wrong_state(*load);
  if (load->cycle_log && request.why.empty()) {
    return Failure{FailureCode::ResultDiffers, {{"subject", load->name.text()}}, {}};
  }
  return load;
}

Result<core::CycleSettings> settings_for(const port::Unit& unit, const core::Load& load,
                                         const exchange::LogMapping& mapping) {
  const auto office = unit.office();
  if (!office) return office.failure();
  const auto profile = profile_in_force(unit, *office);
  if (!profile) return profile.failure();
  const auto program = program_in_force(unit, load.program, load.name.sterilizer);
  if (!program) return program.failure();
  if (!*program) return Failure{FailureCode::ProgramUnknown, {{"program", load.program}, {"known", ""}}, {}};
  core::CycleSettings settings;
  settings.programmed_celsius = (**program).celsius;
  settings.margin_kelvin = profile->sensor_margin_kelvin;
  settings.nominal_seconds = mapping.nominal_seconds;
  settings.barometric_kpa = mapping.barometric_kpa;
  return settings;
}

Result<core::CycleSettings> look_up_settings(const Ports& ports, const CycleLogRequest& request,
                                             const exchange::LogMapping& mapping) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto load = load_for_log(**unit, request);
  if (!load) return load.failure();
  return settings_for(**unit, *load, mapping);
}

Failure stopped() {
  return Failure{FailureCode::WrongUsage, {{"problem", "stopped"}}, {}};
}

struct Reading final {
  core::CycleFindings findings;
  exchange::LogSummary summary;
};

Result<Reading> read_file(const port::Files& files, const CycleLogRequest& request,
                          const exchange::LogMapping& mapping, const core::CycleSettings& settings,
                          const Progress& progress) {
  core::CycleReader cycle{settings};
  bool whole = true;
  exchange::CycleLogReader log{mapping, [&](const core::CycleSample& s) { whole = cycle.add(s) && whole; }};
  bool goes_on = true;
  const auto read = files.each_chunk(request.path, [&](const port::Files::Chunk& chunk) {
    log.feed(chunk.bytes);
    goes_on = !progress || progress(chunk.before + chunk.bytes.size(), chunk.total);
    return goes_on;
  });
  if (!read) return read.failure();
  if (!goes_on) return stopped();
  const auto summary = log.finish();
  if (!summary) {
    Failure failure = summary.failure();
    if (failure.code == FailureCode::BadCsv) failure.code = FailureCode::BadCycleLog;
    failure.details.emplace_back("path", request.path);
    return failure;
  }
  if (!whole) return Failure{FailureCode::BadCycleLog, {{"path", request.path}, {"count", "1"}}, {}};
  return Reading{cycle.findings(), *summary};
}

Result<core::CycleLog> record_of(const Act& act, const CycleLogRequest& request, const Reading& reading) {
  const auto highest = act.unit->evidence().highest_log_number();
  if (!highest) return highest.failure();
  core::CycleLog log;
  log.number = *highest + 1;
  log.load = request.load;
  log.file = file_name(request.path);
  log.mapping = request.mapping_name;
  log.findings = core::findings_text(reading.findings);
  log.curve = core::curve_text(reading.findings.curve);
  log.read_by = act.who.code;
  log.read_at = act.now;
  log.why = request.why;
  return log;
}

}  // namespace

Result<CycleLogReply> read_cycle_log(const Ports& ports, const port::Files& files,
                                     const CycleLogRequest& request, const Progress& progress) {
  const auto mapping = exchange::parse_mapping(request.mapping_name, request.mapping);
  if (!mapping) {
    Failure failure = mapping.failure();
    failure.code = FailureCode::BadMapping;
    return failure;
  }
  const auto settings = look_up_settings(ports, request, *mapping);
  if (!settings) return settings.failure();
  const auto reading = read_file(files, request, *mapping, *settings, progress);
  if (!reading) return reading.failure();
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto load = load_for_log(*act->unit, request);
  if (!load) return load.failure();
  const auto still = settings_for(*act->unit, *load, *mapping);
  if (!still) return still.failure();
  if (still->threshold_celsius() != settings->threshold_celsius()) return wrong_state(*load);
  const auto log = record_of(*act, request, *reading);
  if (!log) return log.failure();
  load->cycle_log = log->number;
  const auto written = write_load(*act, core::EventKind::CycleLogRead, *load, {*log},
                                  {{"file", log->file}, {"why", request.why}});
  if (!written) return written.failure();
  return CycleLogReply{*written, reading->findings, reading->summary};
}

}  // namespace loadlight::app
