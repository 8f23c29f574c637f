#include "report/sample_facts.h"

#include <cmath>
#include <cstdint>
#include <iterator>

#include "loadlight/core/steam.h"

namespace loadlight::tests {
namespace {

constexpr std::int64_t kMorning = 1795597200000;  // 2026-11-25T09:00:00Z
constexpr const char* kContents[] = {"Examination set", "Hygiene set", "Extraction forceps 151",
                                     "Endodontic set, long name of a set that wraps"};

core::Instant minutes_after(double minutes) {
  return core::instant_from(kMorning + static_cast<std::int64_t>(minutes * 60000));
}

core::PackageId package_id(int number) {
  for (int salt = 0;; ++salt) {
    const std::uint8_t bytes[6] = {static_cast<std::uint8_t>(number * 37), static_cast<std::uint8_t>(number),
                                   static_cast<std::uint8_t>(salt),        17,
                                   static_cast<std::uint8_t>(number >> 8), 99};
    if (auto id = core::PackageId::from_random(bytes)) return *id;
  }
}

core::CivilDate day(unsigned month, unsigned number) {
  return *core::CivilDate::from(2026, month, number);
}

core::Package sample_package(int number, const core::LoadName& load) {
  core::Package package{package_id(number), load, day(11, 25)};
  package.use_by = *core::CivilDate::from(2027, 5, 24);
  package.state = core::PackageState::Loaded;
  return package;
}

core::IndicatorReading external_indicator(const core::LoadName& load) {
  core::IndicatorReading reading;
  reading.number = 1;
  reading.load = load;
  reading.lot = "X77";
  reading.expires = *core::CivilDate::from(2027, 6, 30);
  reading.passed = true;
  reading.read_by = "CD";
  reading.read_at = minutes_after(48);
  return reading;
}

core::BiologicalRun biological_run(const core::LoadName& load) {
  core::BiologicalRun run;
  run.number = 1;
  run.load = load;
  run.lot = run.control_lot = "B12";
  run.placed_by = "CD";
  run.placed_at = minutes_after(0);
  run.due_at = minutes_after(24 * 60);
  return run;
}

core::BiologicalReading biological_reading(const core::LoadName& load) {
  core::BiologicalReading reading;
  reading.number = 1;
  reading.load = load;
  reading.lot = reading.control_lot = "B12";
  reading.test = core::BiologicalTest::NoGrowth;
  reading.control = core::BiologicalControl::Growth;
  reading.read_by = "AB";
  reading.read_at = minutes_after(24 * 60 + 10);
  reading.of_run = 1;
  return reading;
}

core::CycleLog sample_log(const core::LoadName& load) {
  core::CycleLog log;
  log.number = 1;
  log.load = load;
  log.file = "CYC00204.CSV";
  log.mapping = "comma-seconds";
  log.read_by = "CD";
  log.read_at = minutes_after(47);
  return log;
}

core::Load sample_load(int number) {
  core::Load load;
  load.name = {"S1", number};
  load.state = core::LoadState::Released;
  load.program = "prevac-134";
  load.process_date = day(11, 25);
  load.started_at = minutes_after(3);
  load.finished_at = minutes_after(45);
  load.machine_counter = 1000 + number;
  load.decided_at = minutes_after(52);
  load.decided_by = "AB";
  load.cycle_log = 1;
  return load;
}

void judge(report::LoadRecordFacts& facts, int hold_seconds) {
  facts.findings = sample_cycle(hold_seconds);
  facts.limits.set_celsius = 134;
  facts.limits.exposure_minutes = 3;
  facts.limits.drying_minutes = 16;
  facts.criteria = core::judge_cycle(*facts.findings, facts.limits);
}

}  // namespace

// Three pulses, a hold, exhaust and drying: a sample a second, in saturated steam.
core::CycleFindings sample_cycle(int hold_seconds) {
  core::CycleSettings settings;
  settings.programmed_celsius = 134;
  core::CycleReader reader{settings};
  const int held_from = 560, held_to = held_from + hold_seconds, dry = held_to + 90, end = dry + 1080;
  for (int t = 0; t <= end; ++t) {
    double kpa = 100;
    if (t < 420) kpa = 95 + 75 * std::sin(t / 420.0 * 6 * 3.14159265 - 1.2);
    if (t >= 420) kpa = 96 + (t - 420) * 1.58;
    if (t >= held_from) kpa = 313 + 2 * std::sin(t / 9.0);
    if (t >= held_to) kpa = 313 - (t - held_to) * 3.3;
    if (t >= dry) kpa = 9 + 3 * std::sin(t / 60.0);
    if (t >= end - 60) kpa = 12 + (t - end + 60) * 1.5;
    const double celsius = t < dry ? *core::saturation_celsius(kpa) + 0.1 : 95 - (t - dry) / 60.0;
    if (!reader.add({1.0 * t, celsius, kpa})) std::abort();
  }
  return reader.findings();
}

report::RecordNames sample_names() {
  const auto local = [](core::Instant t) {
    return core::to_text(t).substr(0, 10) + " " + core::to_text(t).substr(11, 5) + " +00:00";
  };
  return {local, {{"AB", "Ada Berg"}, {"CD", "Cem Duran"}}};
}

report::LoadRecordFacts sample_record(int number, int packages) {
  report::LoadRecordFacts facts;
  facts.office = "Harbour Row Dental (demo)";
  facts.sterilizer = "Front steam (S1)";
  facts.load = sample_load(number);
  const core::LoadName name = facts.load.name;
  core::Program program;
  program.code = facts.load.program;
  program.celsius = 134;
  program.exposure_minutes = 3;
  program.drying_minutes = 16;
  program.source = "CDC 2008, Table 7";
  facts.program = program;
  facts.profile = facts.decided_under = "us-cdc-2003 2";
  facts.acts = {{core::EventKind::LoadOpened, minutes_after(-20), "CD", ""},
                {core::EventKind::LoadStarted, minutes_after(3), "CD", ""},
                {core::EventKind::LoadFinished, minutes_after(45), "CD", ""},
                {core::EventKind::LoadReleased, minutes_after(52), "AB", ""}};
  judge(facts, 245);
  facts.log = sample_log(name);
  facts.indicators = {external_indicator(name)};
  facts.runs = {biological_run(name)};
  facts.readings = {biological_reading(name)};
  for (int i = 0; i < packages; ++i) {
    facts.packages.push_back({sample_package(number * 100 + i, name), kContents[i % 3]});
  }
  facts.loose = {{"Trays", 3}};
  facts.printed_at = minutes_after(2000);
  return facts;
}

report::LoadRecordFacts failed_record() {
  report::LoadRecordFacts facts = sample_record(205);
  facts.load.state = core::LoadState::Failed;
  facts.acts.back().kind = core::EventKind::LoadFailed;
  judge(facts, 150);
  facts.reasons = {core::Reason::ExposureShort};
  facts.notes = {core::Note::BiologicalPending};
  facts.readings.clear();
  facts.incidents = {7};
  return facts;
}

report::RecallNoticeFacts sample_recall(int packages) {
  report::RecallNoticeFacts facts;
  facts.office = "Harbour Row Dental (demo)";
  facts.incident.number = 7;
  facts.incident.cause = core::IncidentCause::BiologicalPositive;
  facts.incident.sterilizer = "S1";
  facts.incident.load_number = 204;
  facts.incident.procedure = core::Procedure::Dental2003;
  facts.incident.profile = "us-cdc-2003 2";
  facts.incident.recall = core::RecallReach::Everything;
  facts.incident.opened_by = "AB";
  facts.incident.opened_at = minutes_after(1500);
  facts.sterilizer = "Front steam (S1)";
  facts.first_load = "S1-198";
  facts.last_load = "S1-211";
  facts.printed_at = minutes_after(2000);
  for (int i = 0; i < packages; ++i) {
    report::SuspectPackage suspect{
        sample_package(i, {"S1", 198 + i % 14}), kContents[i % 4], "", {}, "", true};
    if (i % 5 != 0) suspect.place = i % 3 == 0 ? "Cabinet 2, middle shelf" : "Operatory 1 drawer";
    if (i % 9 == 4) {
      suspect.disposition = core::Disposition::Opened;
      suspect.package.opened_at = minutes_after(600 + i);
      if (i % 2 == 0) suspect.package.visit = "V-20" + std::to_string(i);
    }
    if (i % 13 == 12) {
      suspect.disposition = core::Disposition::NotFound;
      suspect.why = "searched every shelf twice, and the bin";
    }
    if (i % 17 == 16) suspect.disposition = core::Disposition::Withdrawn;
    facts.packages.push_back(std::move(suspect));
  }
  return facts;
}

}  // namespace loadlight::tests
