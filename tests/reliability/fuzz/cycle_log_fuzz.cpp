// A sterilizer's cycle log, read with each mapping of templates/mappings. The first byte picks the mapping.
//
// Promises: samples are finite, in order and within what a chamber can be; it does not matter in which pieces the
// bytes come; the summary counts what was handed on; what is made of the samples is finite, and credits no more time
// than the log has.
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

#include "fuzz_input.h"
#include "loadlight/core/cycle.h"
#include "loadlight/exchange/csv.h"
#include "loadlight/exchange/cycle_log.h"

namespace loadlight::fuzz {
namespace {

using namespace exchange;

std::vector<LogMapping> read_mappings() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator{LOADLIGHT_SOURCE_DIR "/templates/mappings"}) {
    if (entry.path().extension() == ".mapping") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  std::vector<LogMapping> mappings;
  for (const auto& file : files) {
    std::ifstream in{file};
    const std::string text{std::istreambuf_iterator<char>{in}, {}};
    mappings.push_back(parse_mapping(file.stem().string(), text).value());
  }
  promise(mappings.size() >= 6, "there are mappings to try");
  return mappings;
}

struct Reading final {
  std::vector<core::CycleSample> samples;
  std::optional<LogSummary> summary;
  std::optional<core::Failure> failure;
};

Reading read(const LogMapping& mapping, std::string_view text, std::size_t step) {
  Reading reading;
  CycleLogReader reader{mapping, [&](const core::CycleSample& sample) { reading.samples.push_back(sample); }};
  in_pieces(text, step, [&](std::string_view piece) { reader.feed(piece); });
  const auto summary = reader.finish();
  if (summary) {
    reading.summary = *summary;
  } else {
    reading.failure = summary.failure();
  }
  return reading;
}

void must_hold(const std::vector<core::CycleSample>& samples) {
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const core::CycleSample& sample = samples[i];
    promise(std::isfinite(sample.seconds) && std::isfinite(sample.celsius), "numbers are finite");
    promise(sample.celsius >= -90 && sample.celsius <= 400, "a temperature that can be");
    promise(!sample.kpa_abs || (*sample.kpa_abs > 0 && *sample.kpa_abs <= 100'000), "a pressure that can be");
    promise(i == 0 || sample.seconds > samples[i - 1].seconds, "samples are in order");
  }
}

void must_hold(const core::Failure& failure) {
  if (failure.code == core::FailureCode::BadEncoding) return;
  promise(failure.code == core::FailureCode::BadCsv && !failure.items.empty(), "what is wrong is told");
  promise(failure.items.size() <= kMostErrors, "errors are not without end");
}

void must_hold(const core::CycleFindings& found) {
  const double length = found.end_seconds - found.start_seconds;
  promise(std::isfinite(length) && std::isfinite(found.f0_minutes) && found.f0_minutes >= 0, "figures are finite");
  promise(found.curve.size() <= core::kMostCurvePoints && found.pulses.size() <= core::kMostPulsesKept &&
              found.gaps.size() <= core::kMostGapsKept,
          "findings are bounded");
  for (const core::PhaseSpan& phase : found.phases) {
    promise(phase.start_seconds <= phase.end_seconds, "a phase ends after it began");
  }
  if (!found.exposure) return;
  const core::Exposure& held = *found.exposure;
  promise(held.start_seconds >= found.start_seconds && held.end_seconds <= found.end_seconds, "exposure is in the log");
  promise(held.minutes() >= 0 && held.minutes() * 60 <= length + 1e-6, "no more is credited than there is");
  promise(held.low_celsius >= found.settings.threshold_celsius(), "exposure is over the threshold");
  promise(std::isfinite(held.f0_minutes) && held.low_celsius <= held.high_celsius, "figures are finite");
}

void judge(const LogMapping& mapping, const std::vector<core::CycleSample>& samples) {
  core::CycleSettings settings;
  settings.programmed_celsius = 134;
  settings.nominal_seconds = mapping.nominal_seconds;
  core::CycleReader reader{settings};
  for (const core::CycleSample& sample : samples) promise(reader.add(sample), "a sample that is handed on is taken");
  must_hold(reader.findings());
}

void must_agree(const Reading& whole, const Reading& pieces) {
  promise(whole.samples == pieces.samples, "pieces make no difference to samples");
  promise(whole.summary.has_value() == pieces.summary.has_value(), "nor to what is refused");
  if (whole.summary) promise(whole.summary->lines == pieces.summary->lines, "nor to lines");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight::fuzz;
  static const auto mappings = read_mappings();
  Input input{data, size};
  const auto& mapping = mappings[input.choice(mappings.size())];
  const Reading whole = read(mapping, input.rest(), input.rest().size());
  must_hold(whole.samples);
  must_agree(whole, read(mapping, input.rest(), 5));
  if (whole.summary) {
    promise(whole.summary->samples == whole.samples.size(), "what was handed on is counted");
    promise(whole.samples.size() <= whole.summary->lines, "a sample is a line");
  } else {
    must_hold(*whole.failure);
  }
  judge(mapping, whole.samples);
  return 0;
}
