#include "loadlight/core/cycle_criteria.h"

#include <cmath>

namespace loadlight::core {
namespace {

using Findings = const CycleFindings&;
using Limits = const CycleLimits&;
using Measured = std::optional<double>;

// Forgiven to arithmetic: sums of steps of a tenth of a second, degrees Fahrenheit.
constexpr double kRounding = 1e-9;

struct Criterion final {
  std::string_view code;
  std::string_view unit;
  bool at_least;
  Measured (*measured)(Findings, Limits);
  double (*limit)(Findings, Limits);
  // False while something was not measured that might have been worse than what was.
  bool (*whole)(Findings);
  std::string_view source;  // empty: the program's
};

bool always(Findings) {
  return true;
}
bool has_every_pressure(Findings f) {
  return f.exposure && f.exposure->without_pressure == 0;
}

// A value of the exposure; none without one.
template <class Of>
Measured in_exposure(Findings f, Of of) {
  return f.exposure ? Measured{of(*f.exposure)} : std::nullopt;
}

// A log that was read with a lower threshold than the limits ask says nothing of this exposure; nor does
// anything if no time is asked for.
Measured exposure_minutes(Findings f, Limits l) {
  if (!(l.exposure_minutes > 0)) return std::nullopt;
  const double asked = l.set_celsius + l.margin_kelvin;
  if (f.samples == 0 || !(f.settings.threshold_celsius() >= asked - kRounding)) return std::nullopt;
  return f.exposure ? f.exposure->minutes() : 0;
}

Measured drying_minutes(Findings f, Limits) {
  return f.drying_minutes;
}

Measured without_pressure(Findings f, Limits) {
  if (f.samples == 0) return std::nullopt;
  return static_cast<double>(f.exposure ? f.exposure->without_pressure : f.without_pressure);
}

// 1: exposure and exhaust are both in the log; 0: it ends before one of them.
Measured complete(Findings f, Limits) {
  if (f.samples == 0) return std::nullopt;
  if (!f.exposure) return 0.0;
  return f.exhausted ? Measured{*f.exhausted ? 1.0 : 0.0} : std::nullopt;
}

constexpr std::string_view kEn285 = "EN 285 (from memory)";
constexpr std::string_view kBand =
    "EN 285, EN 13060, HTM 01-01: bands of 3 K (from memory), less the margin "
    "(van Doornmalen et al., abstract, 1/2020)";
constexpr std::string_view kOurs = "what this program can judge: no time is credited that was not measured";

// Columns: code, unit, at least (else at most), measured, limit, whole, source.
constexpr Criterion kCriteria[] = {
    {"cycle-complete", "cycle", true, complete, [](Findings, Limits) { return 1.0; }, always, kOurs},
    {"exposure", "min", true, exposure_minutes, [](Findings, Limits l) { return l.exposure_minutes; }, always,
     ""},
    {"lowest-temperature", "degC", true,
     [](Findings f, Limits) { return in_exposure(f, [](const auto& e) { return e.low_celsius; }); },
     [](Findings, Limits l) { return l.set_celsius + l.margin_kelvin; }, always, ""},
    {"upper-limit", "degC", false,
     [](Findings f, Limits) { return in_exposure(f, [](const auto& e) { return e.high_celsius; }); },
     [](Findings, Limits l) { return l.set_celsius + l.band_kelvin - l.margin_kelvin; }, always, kBand},
    {"fluctuation", "K", false,
     [](Findings f, Limits) { return in_exposure(f, [](const auto& e) { return e.fluctuation_kelvin(); }); },
     [](Findings, Limits l) { return l.fluctuation_kelvin; }, always, kEn285},
    {"pressure-recorded", "samples", false, without_pressure, [](Findings, Limits) { return 0.0; }, always,
     kOurs},
    {"saturation-superheat", "K", false,
     [](Findings f, Limits) { return f.exposure ? f.exposure->superheat_kelvin : std::nullopt; },
     [](Findings, Limits l) { return l.steam_kelvin; }, has_every_pressure, kEn285},
    {"saturation-deficit", "K", false,
     [](Findings f, Limits) { return f.exposure ? f.exposure->deficit_kelvin : std::nullopt; },
     [](Findings, Limits l) { return l.steam_kelvin; }, has_every_pressure, kEn285},
    {"drying", "min", true, drying_minutes, [](Findings, Limits l) { return l.drying_minutes; }, always, ""},
    {"sampling-gap", "s", false,
     [](Findings f, Limits) { return f.samples > 1 ? Measured{f.longest_step_seconds} : std::nullopt; },
     [](Findings f, Limits) { return 2 * f.settings.nominal_seconds; }, always, kOurs},
};

// A program that sets no drying time says so by 0; no other limit can be left out.
bool is_asked(const Criterion& row, double limit) {
  return !(row.measured == drying_minutes && limit == 0);
}

Standing standing_of(const Criterion& row, const CriterionResult& result, Findings findings) {
  if (!is_asked(row, result.limit)) return Standing::NotAsked;
  if (!result.margin || !std::isfinite(*result.margin)) return Standing::Unknown;
  if (*result.margin < -kRounding) return Standing::NotMet;
  return row.whole(findings) ? Standing::Met : Standing::Unknown;
}

CriterionResult judge(const Criterion& row, Findings findings, Limits limits) {
  CriterionResult result;
  result.code = row.code;
  result.at_least = row.at_least;
  result.unit = row.unit;
  result.source = std::string{row.source.empty() ? limits.program_source : row.source};
  result.limit = row.limit(findings, limits);
  result.measured = row.measured(findings, limits);
  if (result.measured) {
    result.margin = row.at_least ? *result.measured - result.limit : result.limit - *result.measured;
  }
  result.standing = standing_of(row, result, findings);
  return result;
}

}  // namespace

std::vector<CriterionResult> judge_cycle(const CycleFindings& findings, const CycleLimits& limits) {
  std::vector<CriterionResult> results;
  for (const Criterion& row : kCriteria) results.push_back(judge(row, findings, limits));
  return results;
}

std::vector<std::string_view> all_criteria() {
  std::vector<std::string_view> codes;
  for (const Criterion& row : kCriteria) codes.push_back(row.code);
  return codes;
}

}  // namespace loadlight::core
