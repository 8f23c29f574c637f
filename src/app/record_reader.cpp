#include "app/record_reader.h"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>

#include "app/load_facts.h"
#include "loadlight/core/cycle_text.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Result;
using report::LoadRecordFacts;

// What is done with a load itself, as its record tells it.
constexpr EventKind kActs[] = {
    EventKind::LoadOpened,      EventKind::LoadStarted,    EventKind::LoadFinished,
    EventKind::LoadAborted,     EventKind::LoadReleased,   EventKind::LoadFailed,
    EventKind::LoadQuarantined, EventKind::ReleaseRevoked, EventKind::LoadRecalled};

bool is_decision(EventKind kind) {
  return kind == EventKind::LoadReleased || kind == EventKind::LoadFailed ||
         kind == EventKind::LoadQuarantined;
}

std::string detail_of(const port::PastEvent& event, std::string_view name) {
  for (const auto& [key, value] : event.details) {
    if (key == name) return value;
  }
  return "";
}

// The reasons of a decision as the ledger keeps them: codes with spaces between.
std::vector<core::Reason> reasons_in(const std::string& codes) {
  const std::string padded = " " + codes + " ";
  std::vector<core::Reason> reasons;
  for (core::Reason reason : core::all_reasons()) {
    if (padded.find(" " + std::string{core::to_text(reason)} + " ") != std::string::npos) {
      reasons.push_back(reason);
    }
  }
  return reasons;
}

std::string named(const std::string& name, const std::string& code) {
  return name.empty() || name == code ? code : name + " (" + code + ")";
}

// Minutes by which local time is ahead; a zone gives local texts alone.
int offset_minutes(std::string_view local, core::Instant t) {
  using namespace std::chrono;
  const auto date = core::CivilDate::parse_iso(local.substr(0, 10));
  int hours = 0, minutes = 0;
  if (!date || std::sscanf(std::string{local.substr(10)}.c_str(), "%d:%d", &hours, &minutes) != 2) return 0;
  const auto local_minutes =
      sys_days{date->calendar()} + std::chrono::hours{hours} + std::chrono::minutes{minutes};
  return static_cast<int>(
      (floor<std::chrono::minutes>(local_minutes) - floor<std::chrono::minutes>(t)).count());
}

}  // namespace

std::string local_time_with_offset(const port::Zone& zone, core::Instant t) {
  const std::string local = zone.local_text(t);
  const int ahead = offset_minutes(local, t);
  char offset[32];
  std::snprintf(offset, sizeof offset, " %c%02d:%02d", ahead < 0 ? '-' : '+', std::abs(ahead) / 60,
                std::abs(ahead) % 60);
  return local + offset;
}

Result<RecordReader> RecordReader::of(const Ports& ports, const port::Unit& unit) {
  RecordReader reader{ports, unit};
  if (auto ok = reader.read_office(); !ok) return ok.failure();
  return reader;
}

Result<void> RecordReader::read_office() {
  now_ = ports_->clock.now();
  const auto office = unit_->office();
  if (!office) return office.failure();
  office_ = *office;
  const auto people = unit_->operators().all();
  if (!people) return people.failure();
  for (const core::Operator& each : *people) names_.people[each.code] = each.name;
  names_.local_time = [zone = &ports_->zone](core::Instant t) { return local_time_with_offset(*zone, t); };
  auto incidents = unit_->incidents().all();
  if (!incidents) return incidents.failure();
  incidents_ = *std::move(incidents);
  return {};
}

Result<std::string> RecordReader::sterilizer_name(const std::string& code) const {
  const auto found = unit_->sterilizers().find(code);
  if (!found) return found.failure();
  return *found ? named((**found).name, code) : code;
}

Result<std::string> RecordReader::contents_name(const std::string& code) {
  if (const auto known = contents_.find(code); known != contents_.end()) return known->second;
  const auto found = unit_->contents().find(code);
  if (!found) return found.failure();
  return contents_[code] = *found ? (**found).name : code;
}

// The decision's reasons and profile are those that the ledger states beside it.
Result<void> RecordReader::read_acts(LoadRecordFacts& facts) const {
  core::Instant decided{};
  for (EventKind kind : kActs) {
    const auto events = unit_->events_about(facts.load.name.text(), kind);
    if (!events) return events.failure();
    for (const port::PastEvent& event : *events) {
      facts.acts.push_back({kind, event.at, event.operator_code, detail_of(event, "why")});
      if (!is_decision(kind) || event.at < decided) continue;
      decided = event.at;
      facts.decided_under = detail_of(event, "profile");
      facts.reasons = reasons_in(detail_of(event, "reasons"));
    }
  }
  std::stable_sort(facts.acts.begin(), facts.acts.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  return {};
}

Result<void> RecordReader::read_log(LoadRecordFacts& facts) const {
  if (!facts.load.cycle_log) return {};
  auto log = unit_->evidence().find_log(*facts.load.cycle_log);
  if (!log) return log.failure();
  if (!*log) return {};
  facts.log = **log;
  facts.findings = core::parse_findings(facts.log->findings);
  const auto curve = core::parse_curve(facts.log->curve);
  if (facts.findings && curve) facts.findings->curve = *curve;
  return {};
}

Result<void> RecordReader::read_contents(LoadRecordFacts& facts) {
  const auto packages = unit_->packages().of_load(facts.load.name);
  if (!packages) return packages.failure();
  for (const core::Package& package : *packages) {
    const auto name = contents_name(package.contents);
    if (!name) return name.failure();
    facts.packages.push_back({package, *name});
  }
  for (core::LooseItems items : facts.load.loose_items) {
    const auto name = contents_name(items.contents);
    if (!name) return name.failure();
    items.contents = *name;
    facts.loose.push_back(std::move(items));
  }
  return {};
}

Result<LoadRecordFacts> RecordReader::facts_of_load(const core::Load& load) {
  LoadRecordFacts facts;
  facts.office = office_.name;
  facts.load = load;
  facts.printed_at = now_;
  const auto sterilizer = sterilizer_name(load.name.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  facts.sterilizer = *sterilizer;
  auto judged = app::facts_of(*unit_, load, now_);
  if (!judged) return judged.failure();
  facts.program = judged->program;
  facts.profile = judged->profile ? judged->profile->text() : "";
  facts.retention_months = judged->profile ? judged->profile->retention_months : std::nullopt;
  facts.criteria = core::mechanical_criteria(*judged);
  facts.indicators = std::move(judged->indicators);
  facts.runs = std::move(judged->biological_runs);
  facts.readings = std::move(judged->biologicals);
  if (judged->program) facts.limits.set_celsius = judged->program->celsius;
  if (core::has_ended(load.state)) {
    const core::Verdict verdict = core::judge_release(*judged);
    facts.notes = verdict.notes();
  }
  if (!load.emergency_reason.empty()) facts.notes.push_back(core::Note::ReleasedAsEmergency);
  for (const core::Incident& incident : incidents_) {
    if (incident.covers(load)) facts.incidents.push_back(incident.number);
  }
  if (auto ok = read_acts(facts); !ok) return ok.failure();
  if (core::awaits_decision(load.state)) facts.reasons = core::judge_release(*judged).reasons();
  if (auto ok = read_log(facts); !ok) return ok.failure();
  if (auto ok = read_contents(facts); !ok) return ok.failure();
  return facts;
}

}  // namespace loadlight::app
