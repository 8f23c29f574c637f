#include "loadlight/core/release_rules.h"

#include <algorithm>
#include <cmath>

namespace loadlight::core {
namespace {

Finding yes_if(bool condition) { return condition ? Finding::Yes : Finding::No; }

// External indicators that speak for the load as a whole; a single package's is that package's matter.
bool speaks_for_load(const IndicatorReading& reading) {
  return reading.place == IndicatorPlace::External && !reading.package;
}

bool is_plausible(double value) { return std::isfinite(value) && value > 0; }

Finding readings_incomplete(const LoadFacts& f) {
  if (!f.readings) return Finding::No;
  const Readings& r = *f.readings;
  return yes_if(!is_plausible(r.low_celsius) || !is_plausible(r.high_celsius) ||
                !is_plausible(r.minutes) || !is_plausible(r.pressure_kpa) ||
                r.high_celsius < r.low_celsius);
}

Finding exposure_short(const LoadFacts& f) {
  if (!f.readings) return Finding::No;
  if (!f.program) return Finding::Missing;
  return yes_if(!(f.readings->low_celsius >= f.program->celsius) ||
                !(f.readings->minutes >= f.program->exposure_minutes));
}

Finding drying_short(const LoadFacts& f) {
  if (!f.program || !f.holds_wrapped) return Finding::Missing;
  if (!f.readings || !*f.holds_wrapped || f.program->drying_minutes <= 0) return Finding::No;
  return yes_if(!(f.readings->drying_minutes.value_or(0) >= f.program->drying_minutes));
}

Finding program_not_allowed(const LoadFacts& f) {
  if (!f.program || !f.removal || !f.type || !f.holds_wrapped || !f.holds_hollow) return Finding::Missing;
  const bool wrong_air_removal = f.program->removal && *f.program->removal != *f.removal;
  const bool too_much_for_n = *f.type == SterilizerType::N && (*f.holds_wrapped || *f.holds_hollow);
  return yes_if(wrong_air_removal || too_much_for_n);
}

Finding indicator_unread(const LoadFacts& f) {
  return yes_if(std::none_of(f.indicators.begin(), f.indicators.end(), speaks_for_load));
}

Finding indicator_failed(const LoadFacts& f) {
  return yes_if(std::any_of(f.indicators.begin(), f.indicators.end(), [](const IndicatorReading& i) {
    return !i.passed && (speaks_for_load(i) || i.place == IndicatorPlace::ProcessChallenge);
  }));
}

Finding consumable_expired(const LoadFacts& f) {
  if (f.indicators.empty()) return Finding::No;
  if (!f.process_date) return Finding::Missing;
  return yes_if(std::any_of(f.indicators.begin(), f.indicators.end(),
                            [&f](const IndicatorReading& i) { return i.expires < *f.process_date; }));
}

// A result stands only with a control of the same lot that grew.
bool is_valid(const BiologicalReading& b) {
  return b.test != BiologicalTest::Lost && b.control == BiologicalControl::Growth && b.lot == b.control_lot;
}

bool any_negative(const LoadFacts& f) {
  return std::any_of(f.biologicals.begin(), f.biologicals.end(), is_valid_negative);
}

Finding biological_positive(const LoadFacts& f) {
  return yes_if(std::any_of(f.biologicals.begin(), f.biologicals.end(), [](const BiologicalReading& b) {
    return b.test == BiologicalTest::Growth;
  }));
}

Finding biological_invalid(const LoadFacts& f) {
  return yes_if(!any_negative(f) &&
                std::any_of(f.biologicals.begin(), f.biologicals.end(), [](const BiologicalReading& b) {
                  return b.test == BiologicalTest::NoGrowth && !is_valid(b);
                }));
}

Finding biological_awaited(const LoadFacts& f) {
  if (!f.holds_implant) return Finding::Missing;
  return yes_if(*f.holds_implant && !any_negative(f));
}

Finding wet(const LoadFacts& f) {
  return f.wet_packages ? yes_if(*f.wet_packages >= kWetPackagesThatHold) : Finding::Missing;
}

// The reason a state is, before and after a decision; none for a release.
std::optional<Reason> reason_of(LoadState state) {
  switch (state) {
    case LoadState::Reserved:
    case LoadState::Open:
      return Reason::LoadNotStarted;
    case LoadState::Running:
      return Reason::LoadRunning;
    case LoadState::Finished:
      return Reason::LoadNotReleased;
    case LoadState::Quarantined:
      return Reason::LoadQuarantined;
    case LoadState::Released:
      return std::nullopt;
    case LoadState::Failed:
      return Reason::LoadFailed;
    case LoadState::Aborted:
      return Reason::LoadAborted;
    case LoadState::Revoked:
      return Reason::ReleaseRevoked;
    case LoadState::Recalled:
      return Reason::LoadRecalled;
  }
  return Reason::RecordDamaged;
}

struct ReleaseRule final {
  Reason reason;
  Finding (*finds)(const LoadFacts&);
};

// When each reason applies. Sources: CDC dental FAQ "Best Practices for Sterilization Monitoring"
// (mechanical evidence on every load, indicators read on unloading); MMWR 52(RR-17) 2003 VI.F.5 (do not
// use when mechanical or chemical results are inadequate), VI.F.6-7 (BI with a control of the same lot;
// every load with an implant); EN 13060 summary (type N: solid, unwrapped).
constexpr ReleaseRule kRules[] = {
    {Reason::LoadRunning, [](const LoadFacts& f) { return yes_if(f.state == LoadState::Running); }},
    {Reason::LoadAborted, [](const LoadFacts& f) { return yes_if(f.state == LoadState::Aborted); }},
    {Reason::ClockBehindRecord,
     [](const LoadFacts& f) { return f.clock_behind ? yes_if(*f.clock_behind) : Finding::Missing; }},
    {Reason::SterilizerOutOfService,
     [](const LoadFacts& f) { return f.in_service ? yes_if(!*f.in_service) : Finding::Missing; }},
    {Reason::ProgramNotAllowed, program_not_allowed},
    {Reason::MechanicalEvidenceMissing, [](const LoadFacts& f) { return yes_if(!f.readings); }},
    {Reason::MechanicalEvidenceIncomplete, readings_incomplete},
    {Reason::ExposureShort, exposure_short},
    {Reason::DryingShort, drying_short},
    {Reason::ExternalIndicatorUnread, indicator_unread},
    {Reason::ExternalIndicatorFailed, indicator_failed},
    {Reason::ConsumableExpired, consumable_expired},
    {Reason::WetPackages, wet},
    {Reason::BiologicalPositive, biological_positive},
    {Reason::BiologicalInvalid, biological_invalid},
    {Reason::BiologicalAwaited, biological_awaited},
};

}  // namespace

Verdict judge_release(const LoadFacts& facts) {
  Judge judge;
  for (const ReleaseRule& rule : kRules) judge.hear(rule.reason, rule.finds(facts));
  Verdict verdict = judge.verdict();
  if (verdict.outcome() == Outcome::Clear && !awaits_decision(facts.state)) verdict = Verdict::against({});
  if (facts.readings && facts.program &&
      facts.readings->high_celsius > facts.program->celsius + kBandKelvin) {
    verdict = verdict.with(Note::TemperatureAboveBand);
  }
  return verdict;
}

bool is_valid_negative(const BiologicalReading& reading) {
  return is_valid(reading) && reading.test == BiologicalTest::NoGrowth;
}

Verdict verdict_of_state(LoadState state) {
  Judge judge;
  const auto reason = reason_of(state);
  judge.hear(reason.value_or(Reason::LoadNotReleased), yes_if(reason.has_value()));
  return judge.verdict();
}

}  // namespace loadlight::core
