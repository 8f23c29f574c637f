#include "loadlight/core/cycle.h"

#include <algorithm>
#include <cmath>

#include "core/cycle_curve.h"
#include "core/cycle_exposure.h"
#include "core/cycle_pressure.h"

namespace loadlight::core {
namespace {

// What no sensor of a sterilizer can have measured.
constexpr double kLeastCelsius = -273.15;
constexpr double kMostCelsius = 1000;
constexpr double kMostKpa = 100'000;

bool is_measured(const CycleSample& sample) {
  const bool pressure = !sample.kpa_abs || (*sample.kpa_abs > 0 && *sample.kpa_abs <= kMostKpa);
  return std::isfinite(sample.seconds) && sample.celsius >= kLeastCelsius && sample.celsius <= kMostCelsius &&
         pressure;
}

}  // namespace

struct CycleReader::State final {
  explicit State(const CycleSettings& settings) : exposure(settings), drying(settings.barometric_kpa) {
    so_far.settings = settings;
  }

  bool is_gap(double step) const { return !(step <= 2 * so_far.settings.nominal_seconds); }
  void add_first(const CycleSample& sample);
  void add_step(const CycleSample& sample);
  void add_phases(const CycleSample& sample, const CycleSample* before);
  void add_plateau(double seconds);
  void fill_exposure(CycleFindings& findings) const;
  void fill_phases(CycleFindings& findings) const;

  CycleFindings so_far;
  CycleSample last;
  double hottest_at = 0;
  // The plateau, interruptions included: from the first sample at the threshold to the last.
  std::optional<PhaseSpan> plateau;
  std::optional<double> air_removed_at;  // the last pulse before it
  ExposureWatch exposure;
  PulseWatch pulses;
  DryingWatch drying;
  CurveKeeper curve;
};

void CycleReader::State::add_first(const CycleSample& sample) {
  so_far.start_seconds = hottest_at = sample.seconds;
  so_far.low_celsius = so_far.high_celsius = sample.celsius;
}

// From the sample before to this one: the gap, or the lethality, between them.
void CycleReader::State::add_step(const CycleSample& sample) {
  const double step = sample.seconds - last.seconds;
  so_far.longest_step_seconds = std::max(so_far.longest_step_seconds, step);
  if (!is_gap(step)) {
    so_far.f0_minutes += lethality_minutes(step / 60, last.celsius, sample.celsius, so_far.settings.f0);
    return;
  }
  ++so_far.gap_count;
  if (so_far.gaps.size() < kMostGapsKept) so_far.gaps.push_back({last.seconds, sample.seconds});
}

void CycleReader::State::add_phases(const CycleSample& sample, const CycleSample* before) {
  if (sample.kpa_abs) pulses.add(sample.seconds, *sample.kpa_abs);
  exposure.add(sample, before, {{}, pulses.count()});
  if (exposure.is_hot(sample)) return add_plateau(sample.seconds);
  drying.add(sample, before ? sample.seconds - before->seconds : 0);
}

void CycleReader::State::add_plateau(double seconds) {
  if (!plateau) {
    plateau = PhaseSpan{CyclePhase::Plateau, seconds, seconds};
    air_removed_at = pulses.last_seconds();
  }
  plateau->end_seconds = seconds;
  drying.restart();
}

void CycleReader::State::fill_exposure(CycleFindings& findings) const {
  const auto run = exposure.longest();
  if (run) {
    findings.exposure = run->exposure;
    findings.pulse_count = run->pulses_before;
    if (drying.was_told()) {
      findings.exhausted = drying.start_seconds().has_value();
      findings.drying_minutes = drying.credited_seconds() / 60;
    }
  } else {
    findings.pulse_count = pulses.count();
  }
  findings.interruptions = exposure.interruptions();
  const std::size_t kept = std::min(findings.pulse_count, pulses.first_ones().size());
  findings.pulses.assign(pulses.first_ones().begin(),
                         pulses.first_ones().begin() + static_cast<std::ptrdiff_t>(kept));
}

void CycleReader::State::fill_phases(CycleFindings& findings) const {
  double from = findings.start_seconds;
  const auto add = [&](CyclePhase phase, double until) {
    if (until > from) findings.phases.push_back({phase, from, until});
    from = std::max(from, until);
  };
  const auto air_removed = plateau ? air_removed_at : pulses.last_seconds();
  if (air_removed) add(CyclePhase::AirRemoval, *air_removed);
  add(CyclePhase::Heating, plateau ? plateau->start_seconds : hottest_at);
  if (!plateau) return;
  add(CyclePhase::Plateau, plateau->end_seconds);
  add(CyclePhase::Exhaust, drying.start_seconds().value_or(findings.end_seconds));
  add(CyclePhase::Drying, findings.end_seconds);
}

CycleReader::CycleReader(const CycleSettings& settings) : state_(std::make_unique<State>(settings)) {}
CycleReader::CycleReader(CycleReader&&) noexcept = default;
CycleReader& CycleReader::operator=(CycleReader&&) noexcept = default;
CycleReader::~CycleReader() = default;

bool CycleReader::add(const CycleSample& sample) {
  State& s = *state_;
  const bool first = s.so_far.samples == 0;
  if (!is_measured(sample) || (!first && !(sample.seconds > s.last.seconds))) return false;
  if (first) {
    s.add_first(sample);
  } else {
    s.add_step(sample);
  }
  const bool joined = !first && !s.is_gap(sample.seconds - s.last.seconds);
  s.add_phases(sample, joined ? &s.last : nullptr);
  s.curve.add(sample);
  if (sample.celsius > s.so_far.high_celsius) s.hottest_at = sample.seconds;
  s.so_far.low_celsius = std::min(s.so_far.low_celsius, sample.celsius);
  s.so_far.high_celsius = std::max(s.so_far.high_celsius, sample.celsius);
  s.so_far.end_seconds = sample.seconds;
  ++s.so_far.samples;
  s.so_far.without_pressure += sample.kpa_abs ? 0 : 1;
  s.last = sample;
  return true;
}

CycleFindings CycleReader::findings() const {
  CycleFindings findings = state_->so_far;
  state_->fill_exposure(findings);
  state_->fill_phases(findings);
  findings.curve = state_->curve.points();
  return findings;
}

}  // namespace loadlight::core
