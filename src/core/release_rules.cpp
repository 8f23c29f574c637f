#include "loadlight/core/release_rules.h"

#include <algorithm>
#include <initializer_list>

#include "loadlight/core/biological.h"
#include "loadlight/core/indicator_types.h"
#include "loadlight/core/readings_criteria.h"

namespace loadlight::core {
namespace {

Finding yes_if(bool condition) {
  return condition ? Finding::Yes : Finding::No;
}

Finding fact(const std::optional<bool>& condition) {
  return condition ? yes_if(*condition) : Finding::Missing;
}

// ---- mechanical evidence

CycleLimits limits_of(const Program& program, const Profile& profile, bool dried) {
  CycleLimits limits;
  limits.set_celsius = program.celsius;
  limits.exposure_minutes = program.exposure_minutes;
  limits.drying_minutes = dried ? program.drying_minutes : 0;
  limits.margin_kelvin = profile.sensor_margin_kelvin;
  limits.steam_kelvin = profile.steam_kelvin;
  limits.program_source = program.source;
  return limits;
}

bool has_mechanical_evidence(const LoadFacts& f) {
  return f.has_log || f.readings;
}

// A rule about one of the lines of the mechanical evidence.
template <class Rule>
Finding of_lines(const LoadFacts& f, Rule rule) {
  if (!has_mechanical_evidence(f)) return Finding::No;
  if (!f.program || !f.profile || !f.holds_wrapped || (f.has_log && !f.log)) return Finding::Missing;
  const auto lines = mechanical_criteria(f);
  return yes_if(std::any_of(lines.begin(), lines.end(), rule));
}

bool is_not_met(const CriterionResult& line, std::initializer_list<std::string_view> codes) {
  return line.standing == Standing::NotMet && std::find(codes.begin(), codes.end(), line.code) != codes.end();
}

Finding evidence_incomplete(const LoadFacts& f) {
  return of_lines(f, [](const CriterionResult& line) {
    return line.standing == Standing::Unknown || is_not_met(line, {"cycle-complete", "pressure-recorded"});
  });
}

Finding exposure_short(const LoadFacts& f) {
  return of_lines(f, [](const CriterionResult& line) {
    return is_not_met(line, {"exposure", "lowest-temperature"});
  });
}

Finding drying_short(const LoadFacts& f) {
  return of_lines(f, [](const CriterionResult& line) { return is_not_met(line, {"drying"}); });
}

Finding steam_not_saturated(const LoadFacts& f) {
  return of_lines(f, [](const CriterionResult& line) {
    return is_not_met(line, {"saturation-superheat", "saturation-deficit"});
  });
}

bool is_above_band(const CriterionResult& line) {
  return is_not_met(line, {"upper-limit"});
}

Finding temperature_above_band(const LoadFacts& f) {
  if (!f.profile) return Finding::Missing;
  if (f.profile->above_band == AboveBand::Note) return Finding::No;
  return of_lines(f, is_above_band);
}

Finding program_not_allowed(const LoadFacts& f) {
  if (!f.program || !f.removal || !f.type || !f.holds_wrapped || !f.holds_hollow) return Finding::Missing;
  const bool wrong_air_removal = f.program->removal && *f.program->removal != *f.removal;
  const bool too_much_for_n = *f.type == SterilizerType::N && (*f.holds_wrapped || *f.holds_hollow);
  return yes_if(wrong_air_removal || too_much_for_n || !f.program->accepted);
}

// ---- tests of the sterilizer

bool is_test(const LoadFacts& f) {
  return f.purpose == LoadPurpose::BowieDick || f.purpose == LoadPurpose::Leak;
}

bool is_air_removal_sheet(const IndicatorReading& reading) {
  return reading.place == IndicatorPlace::ProcessChallenge && reading.type == 2;
}

DailyTest sheets_result(const std::vector<IndicatorReading>& indicators) {
  DailyTest result = DailyTest::Missing;
  for (const IndicatorReading& reading : indicators) {
    if (!is_air_removal_sheet(reading)) continue;
    if (!reading.passed) return DailyTest::Failed;
    result = DailyTest::Passed;
  }
  return result;
}

// A test load is its own test: missing until it is read.
DailyTest own_result(const LoadFacts& f) {
  if (f.purpose != LoadPurpose::Leak) return sheets_result(f.indicators);
  if (!f.leak) return DailyTest::Missing;
  return f.leak->passed ? DailyTest::Passed : DailyTest::Failed;
}

Finding daily_test_is(const LoadFacts& f, DailyTest standing) {
  if (is_test(f)) return yes_if(own_result(f) == standing);
  if (f.purpose == LoadPurpose::Retest) return Finding::No;
  return f.daily_test ? yes_if(*f.daily_test == standing) : Finding::Missing;
}

// ---- chemical evidence

// External indicators that speak for the load as a whole; a single package's is that package's matter.
bool speaks_for_load(const IndicatorReading& reading) {
  return reading.place == IndicatorPlace::External && !reading.package;
}

Finding indicator_unread(const LoadFacts& f) {
  return yes_if(std::none_of(f.indicators.begin(), f.indicators.end(), [&f](const IndicatorReading& i) {
    return speaks_for_load(i) && may_stand(i.type, i.place, f.purpose);
  }));
}

// Wherever it lay: only what was read on a single package is that package's own matter.
Finding indicator_failed(const LoadFacts& f) {
  return yes_if(std::any_of(f.indicators.begin(), f.indicators.end(),
                            [](const IndicatorReading& i) { return !i.passed && !i.package; }));
}

// An expired indicator proves nothing; one of the same kind that was in date takes its place.
bool is_made_good(const IndicatorReading& expired, const LoadFacts& f) {
  return std::any_of(f.indicators.begin(), f.indicators.end(), [&](const IndicatorReading& other) {
    return other.expires >= *f.process_date && other.place == expired.place && other.type == expired.type &&
           other.package == expired.package;
  });
}

Finding consumable_expired(const LoadFacts& f) {
  if (f.indicators.empty() && f.biological_runs.empty()) return Finding::No;
  if (!f.process_date) return Finding::Missing;
  const bool chemical = std::any_of(f.indicators.begin(), f.indicators.end(), [&f](const auto& i) {
    return i.expires < *f.process_date && !is_made_good(i, f);
  });
  const bool biological =
      std::any_of(f.biological_runs.begin(), f.biological_runs.end(),
                  [&f](const auto& run) { return run.expires && *run.expires < *f.process_date; });
  return yes_if(chemical || biological);
}

bool is_recalled(const LoadFacts& f, const std::string& lot) {
  return std::find(f.recalled_lots->begin(), f.recalled_lots->end(), lot) != f.recalled_lots->end();
}

// One of another lot, of the same kind, takes the place of a chemical indicator; none that of a biological one.
bool is_of_recalled_alone(const IndicatorReading& recalled, const LoadFacts& f) {
  return is_recalled(f, recalled.lot) &&
         std::none_of(f.indicators.begin(), f.indicators.end(), [&](const IndicatorReading& other) {
           return !is_recalled(f, other.lot) && other.place == recalled.place && other.type == recalled.type &&
                  other.package == recalled.package;
         });
}

Finding consumable_recalled(const LoadFacts& f) {
  if (!f.recalled_lots) return Finding::Missing;
  const auto is_of_it = [&f](const auto& each) { return is_recalled(f, each.lot) || is_recalled(f, each.control_lot); };
  return yes_if(std::any_of(f.indicators.begin(), f.indicators.end(),
                            [&f](const auto& each) { return is_of_recalled_alone(each, f); }) ||
                std::any_of(f.biological_runs.begin(), f.biological_runs.end(), is_of_it) ||
                std::any_of(f.biologicals.begin(), f.biologicals.end(), is_of_it));
}

// ---- biological evidence

bool stands_as(const LoadFacts& f, BiologicalStanding standing) {
  return standing_of(f.biological_runs, f.biologicals, *f.profile) == standing;
}

Finding biological_positive(const LoadFacts& f) {
  return yes_if(std::any_of(f.biologicals.begin(), f.biologicals.end(),
                            [](const BiologicalReading& b) { return b.test == BiologicalTest::Growth; }));
}

Finding biological_invalid(const LoadFacts& f) {
  if (f.biologicals.empty()) return Finding::No;
  if (!f.profile) return Finding::Missing;
  return yes_if(stands_as(f, BiologicalStanding::Invalid));
}

bool carries_biological(const LoadFacts& f) {
  return !f.biological_runs.empty() || !f.biologicals.empty();
}

// Its profile lets a type 5 or 6 indicator release a load without implants before the result.
bool released_by_indicator(const LoadFacts& f) {
  if (f.purpose != LoadPurpose::Process || !f.program) return false;
  return std::any_of(f.indicators.begin(), f.indicators.end(), [&f](const IndicatorReading& i) {
    return may_release_early(i, f.program->celsius, f.program->exposure_minutes, f.profile->early_release,
                             *f.holds_implant);
  });
}

bool waits_for_biological(const LoadFacts& f) {
  return *f.holds_implant || f.purpose == LoadPurpose::Retest ||
         (f.profile->tested_load_waits && carries_biological(f));
}

Finding biological_awaited(const LoadFacts& f) {
  if (!f.holds_implant || !f.profile) return Finding::Missing;
  return yes_if(waits_for_biological(f) && !stands_as(f, BiologicalStanding::Negative) &&
                !released_by_indicator(f));
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

// Which loads a rule is about. Test loads hold no packages and prove nothing but the test.
enum class Of { EveryLoad, AllButTests };

struct ReleaseRule final {
  Reason reason;
  Of of;
  Finding (*finds)(const LoadFacts&);
};

// When each reason applies. Sources: CDC dental FAQ "Best Practices for Sterilization Monitoring"
// (mechanical evidence on every load, indicators read on unloading); MMWR 52(RR-17) 2003 VI.F.5 (do not
// use when mechanical or chemical results are inadequate), VI.F.6-7 (BI with a control of the same lot;
// every load with an implant); CDC 2008 as quoted (Bowie-Dick before the first load of each day used);
// EN 13060 summary (type N: solid, unwrapped). A sterilizer that is out of service runs tests and retests.
constexpr ReleaseRule kRules[] = {
    {Reason::LoadRunning, Of::EveryLoad,
     [](const LoadFacts& f) { return yes_if(f.state == LoadState::Running); }},
    {Reason::LoadAborted, Of::EveryLoad,
     [](const LoadFacts& f) { return yes_if(f.state == LoadState::Aborted); }},
    {Reason::ClockBehindRecord, Of::EveryLoad, [](const LoadFacts& f) { return fact(f.clock_behind); }},
    {Reason::SterilizerOutOfService, Of::AllButTests,
     [](const LoadFacts& f) {
       if (f.purpose == LoadPurpose::Retest) return Finding::No;
       return f.in_service ? yes_if(!*f.in_service) : Finding::Missing;
     }},
    {Reason::IncidentOpen, Of::AllButTests,
     [](const LoadFacts& f) {
       return f.purpose == LoadPurpose::Retest ? Finding::No : fact(f.in_open_incident);
     }},
    {Reason::ProgramNotAllowed, Of::AllButTests, program_not_allowed},
    {Reason::MechanicalEvidenceMissing, Of::AllButTests,
     [](const LoadFacts& f) { return yes_if(!has_mechanical_evidence(f)); }},
    {Reason::MechanicalEvidenceIncomplete, Of::AllButTests, evidence_incomplete},
    {Reason::ExposureShort, Of::AllButTests, exposure_short},
    {Reason::SteamNotSaturated, Of::AllButTests, steam_not_saturated},
    {Reason::TemperatureAboveBand, Of::AllButTests, temperature_above_band},
    {Reason::DryingShort, Of::AllButTests, drying_short},
    {Reason::ExternalIndicatorUnread, Of::AllButTests, indicator_unread},
    {Reason::ExternalIndicatorFailed, Of::AllButTests, indicator_failed},
    {Reason::ConsumableExpired, Of::EveryLoad, consumable_expired},
    {Reason::ConsumableRecalled, Of::EveryLoad, consumable_recalled},
    {Reason::WetPackages, Of::AllButTests, wet},
    {Reason::DailyTestMissing, Of::EveryLoad,
     [](const LoadFacts& f) { return daily_test_is(f, DailyTest::Missing); }},
    {Reason::DailyTestFailed, Of::EveryLoad,
     [](const LoadFacts& f) { return daily_test_is(f, DailyTest::Failed); }},
    {Reason::BiologicalPositive, Of::AllButTests, biological_positive},
    {Reason::BiologicalInvalid, Of::AllButTests, biological_invalid},
    {Reason::BiologicalAwaited, Of::AllButTests, biological_awaited},
};

// What informs without weighing.
struct NoteRule final {
  Note note;
  bool (*applies)(const LoadFacts&);
};

template <class Rule>
bool any_line(const LoadFacts& f, Rule rule) {
  const auto lines = mechanical_criteria(f);
  return std::any_of(lines.begin(), lines.end(), rule);
}

bool awaits_result(const LoadFacts& f) {
  return f.profile && !f.biological_runs.empty() &&
         !standing_of(f.biological_runs, f.biologicals, *f.profile);
}

constexpr NoteRule kNotes[] = {
    {Note::AboveBand,
     [](const LoadFacts& f) {
       return f.profile && f.profile->above_band == AboveBand::Note && any_line(f, is_above_band);
     }},
    {Note::TemperatureUnsteady,
     [](const LoadFacts& f) {
       return any_line(f, [](const auto& line) { return is_not_met(line, {"fluctuation"}); });
     }},
    {Note::LogHasGaps,
     [](const LoadFacts& f) {
       return any_line(f, [](const auto& line) { return is_not_met(line, {"sampling-gap"}); });
     }},
    {Note::ProgramBelowTable, [](const LoadFacts& f) { return f.program && f.program->below_table; }},
    {Note::ReleasedByIndicator,
     [](const LoadFacts& f) {
       return f.holds_implant && f.profile && waits_for_biological(f) &&
              !stands_as(f, BiologicalStanding::Negative) && released_by_indicator(f);
     }},
    {Note::BiologicalPending, awaits_result},
    {Note::BiologicalOverdue,
     [](const LoadFacts& f) {
       return awaits_result(f) && f.now &&
              std::any_of(f.biological_runs.begin(), f.biological_runs.end(),
                          [&](const BiologicalRun& run) { return run.due_at < *f.now; });
     }},
};

}  // namespace

CycleLimits mechanical_limits(const LoadFacts& f) {
  if (!f.program || !f.profile) return {};
  return limits_of(*f.program, *f.profile, f.holds_wrapped.value_or(true));
}

std::vector<CriterionResult> mechanical_criteria(const LoadFacts& f) {
  if (!f.program || !f.profile) return {};
  const CycleLimits limits = mechanical_limits(f);
  if (f.has_log) return f.log ? judge_cycle(*f.log, limits) : std::vector<CriterionResult>{};
  return f.readings ? judge_readings(*f.readings, limits) : std::vector<CriterionResult>{};
}

Verdict judge_release(const LoadFacts& facts) {
  const bool test = is_test(facts);
  Judge judge;
  for (const ReleaseRule& rule : kRules) {
    if (rule.of == Of::EveryLoad || !test) judge.hear(rule.reason, rule.finds(facts));
  }
  Verdict verdict = judge.verdict();
  if (verdict.outcome() == Outcome::Clear && !awaits_decision(facts.state)) verdict = Verdict::against({});
  for (const Note note : release_notes(facts)) verdict = verdict.with(note);
  return verdict;
}

std::vector<Note> release_notes(const LoadFacts& facts) {
  std::vector<Note> notes;
  for (const NoteRule& rule : kNotes) {
    if (!is_test(facts) && rule.applies(facts)) notes.push_back(rule.note);
  }
  return notes;
}

Verdict verdict_of_state(LoadState state) {
  Judge judge;
  const auto reason = reason_of(state);
  judge.hear(reason.value_or(Reason::LoadNotReleased), yes_if(reason.has_value()));
  return judge.verdict();
}

}  // namespace loadlight::core
