#include <catch2/catch.hpp>

#include <filesystem>
#include <set>

#include "exchange/cycle_files.h"

// The invented logs of samples/cycles: what each is to be found to be.

namespace loadlight::exchange {
namespace {

using core::Standing;

struct Sample final {
  const char* file;
  const char* mapping;
  core::CycleLimits limits;
  double exposure_minutes;  // credited, within `tolerance`
  double tolerance;
  std::size_t pulses;
  const char* not_met;
  const char* unknown;
};

constexpr core::CycleLimits kGravity121{121, 30, 15};
constexpr core::CycleLimits kPrevac132{132, 4, 20};
constexpr core::CycleLimits kPrevac134{134, 3, 20};
constexpr const char* kNone = "";

// Columns: file, mapping, limits, exposure min, tolerance, pulses, criteria not met, criteria unknown. The
// holds are those of make_cycle_logs.py; what is credited lies within two intervals and the ramps' ends.
const Sample kSamples[] = {
    {"good-gravity-121.csv", "plain-seconds", kGravity121, 32, 0.3, 0, kNone, kNone},
    {"good-prevac-134.csv", "plain-seconds", kPrevac134, 3.65, 0.1, 4, kNone, kNone},
    {"short-exposure.csv", "plain-seconds", kPrevac134, 2.25, 0.1, 4, "exposure", kNone},
    {"temperature-dip.csv", "plain-seconds", kPrevac134, 1.9, 0.1, 4, "exposure", kNone},
    {"sensor-gap.csv", "plain-seconds", kPrevac134, 1.8, 0.1, 4, "exposure sampling-gap", kNone},
    {"trapped-air.csv", "plain-seconds", kPrevac134, 3.65, 0.1, 4, "saturation-deficit", kNone},
    {"superheat.csv", "plain-seconds", kPrevac134, 3.65, 0.1, 4, "saturation-superheat", kNone},
    {"aborted.csv", "plain-seconds", kPrevac134, 0, 0, 4, "cycle-complete exposure",
     "lowest-temperature upper-limit fluctuation saturation-superheat saturation-deficit drying"},
    {"wet-load.csv", "plain-seconds", kPrevac132, 4.65, 0.1, 4, "drying", kNone},
    {"decimal-commas.csv", "card-comma", kPrevac132, 4.65, 0.1, 4, kNone, kNone},
    {"altitude-psi.csv", "altitude-psi", kGravity121, 32, 0.3, 0, kNone, kNone},
    {"over-midnight.log", "wall-clock", kPrevac132, 4.6, 0.15, 4, kNone, kNone},
    {"clock-put-back.tsv", "dated-clock", kPrevac132, 4.9, 0.15, 4, kNone, kNone},
    {"clock-put-on.tsv", "dated-clock", kPrevac132, 4.9, 0.15, 4, kNone, kNone},
    {"one-a-minute.txt", "minute-strip", kGravity121, 34, 1, 0, kNone, kNone},
};

ReadLog read_sample(const Sample& sample, std::size_t chunk = 1000) {
  return read_log(mapping_named(sample.mapping), file_text(std::string{"samples/cycles/"} + sample.file),
                  sample.limits.set_celsius, chunk);
}

const Sample& sample_named(std::string_view file) {
  for (const Sample& sample : kSamples) {
    if (sample.file == file) return sample;
  }
  FAIL(file);
  return kSamples[0];
}

TEST_CASE("Every sample log is found to be what it was made to be") {
  for (const Sample& sample : kSamples) {
    INFO(sample.file);
    const ReadLog log = read_sample(sample);
    REQUIRE(log.summary);
    const auto results = core::judge_cycle(log.findings, sample.limits);
    CHECK(standing(results, Standing::NotMet) == sample.not_met);
    CHECK(standing(results, Standing::Unknown) == sample.unknown);
    const double minutes = log.findings.exposure ? log.findings.exposure->minutes() : 0;
    CHECK(minutes == Approx(sample.exposure_minutes).epsilon(0).margin(sample.tolerance));
    CHECK(log.findings.pulse_count == sample.pulses);
    CHECK(log.findings.samples == log.summary->samples);
  }
}

TEST_CASE("Where the chunks of a log end changes nothing") {
  for (const Sample& sample : kSamples) {
    const ReadLog whole = read_sample(sample, std::string::npos / 2);
    for (std::size_t chunk : {1u, 7u, 4096u}) {
      const ReadLog cut = read_sample(sample, chunk);
      REQUIRE(cut.summary);
      CHECK(cut.summary->samples == whole.summary->samples);
      CHECK(cut.findings.f0_minutes == whole.findings.f0_minutes);
    }
  }
}

TEST_CASE("Every sample log stands in the table and in its readme") {
  std::set<std::string> listed;
  const std::string readme = file_text("samples/cycles/README.md");
  for (const Sample& sample : kSamples) {
    listed.insert(sample.file);
    CHECK(readme.find("| `" + std::string{sample.file} + "` | `" + sample.mapping + "` |") !=
          std::string::npos);
  }
  for (const auto& entry :
       std::filesystem::directory_iterator{std::string{LOADLIGHT_SOURCE_DIR} + "/samples/cycles"}) {
    const std::string name = entry.path().filename().string();
    CHECK((name == "README.md" || listed.count(name) == 1));
  }
}

TEST_CASE("A clock that crosses midnight goes on") {
  const ReadLog log = read_sample(sample_named("over-midnight.log"));
  CHECK(log.summary->midnights == 1);
  CHECK(log.findings.gap_count == 0);
  CHECK(log.findings.longest_step_seconds == 5);
}

TEST_CASE("An hour of daylight saving is neither credited nor a gap and is reported") {
  for (const char* file : {"clock-put-back.tsv", "clock-put-on.tsv"}) {
    const ReadLog log = read_sample(sample_named(file));
    REQUIRE(log.summary);
    CHECK(log.summary->clock_change_line > 0);
    CHECK(log.findings.longest_step_seconds == 5);
    CHECK(log.findings.end_seconds == 5.0 * static_cast<double>(log.findings.samples - 1));
  }
}

TEST_CASE("Phases of a good log follow one another") {
  const ReadLog log = read_sample(sample_named("good-prevac-134.csv"));
  REQUIRE(log.findings.phases.size() == 5);
  for (std::size_t i = 1; i < 5; ++i) {
    CHECK(log.findings.phases[i].start_seconds == log.findings.phases[i - 1].end_seconds);
    CHECK(log.findings.phases[i].phase > log.findings.phases[i - 1].phase);
  }
  CHECK(log.findings.phases.back().end_seconds == log.findings.end_seconds);
}

TEST_CASE("The gap of a log is reported with its place") {
  const ReadLog log = read_sample(sample_named("sensor-gap.csv"));
  REQUIRE(log.findings.gap_count == 1);
  CHECK(log.findings.gaps[0].end_seconds - log.findings.gaps[0].start_seconds ==
        log.findings.longest_step_seconds);
  CHECK(log.findings.interruptions == 1);
}

}  // namespace
}  // namespace loadlight::exchange
