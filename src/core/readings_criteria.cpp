#include "loadlight/core/readings_criteria.h"

#include <algorithm>
#include <cmath>

#include "loadlight/core/steam.h"

namespace loadlight::core {
namespace {

using Measured = std::optional<double>;
using Read = const Readings&;
using Limits = const CycleLimits&;

bool is_plausible(double value) {
  return std::isfinite(value) && value > 0;
}

bool are_whole(Read r) {
  return is_plausible(r.low_celsius) && is_plausible(r.high_celsius) && is_plausible(r.minutes) &&
         is_plausible(r.pressure_kpa) && r.low_celsius <= r.high_celsius &&
         (!r.drying_minutes || std::isfinite(*r.drying_minutes));
}

// One pressure for a whole exposure: saturated steam of that pressure must lie between the lowest and the
// highest temperature, or no further outside than the limit.
Measured superheat(Read r, Limits) {
  const auto saturated = saturation_celsius(r.pressure_kpa);
  return saturated ? Measured{std::max(0.0, r.low_celsius - *saturated)} : std::nullopt;
}
Measured deficit(Read r, Limits) {
  const auto saturated = saturation_celsius(r.pressure_kpa);
  return saturated ? Measured{std::max(0.0, *saturated - r.high_celsius)} : std::nullopt;
}

struct Criterion final {
  std::string_view code;
  std::string_view unit;
  bool at_least;
  Measured (*measured)(Read, Limits);
  double (*limit)(Limits);
  std::string_view source;  // empty: the program's
};

constexpr std::string_view kBands = "EN 285, EN 13060, HTM 01-01: bands of 3 K (from memory)";
constexpr std::string_view kSteam = "EN 285 (from memory)";

// Columns: code, unit, at least (else at most), measured, limit, source.
constexpr Criterion kCriteria[] = {
    {"exposure", "min", true, [](Read r, Limits) { return Measured{r.minutes}; },
     [](Limits l) { return l.exposure_minutes; }, ""},
    {"lowest-temperature", "degC", true, [](Read r, Limits) { return Measured{r.low_celsius}; },
     [](Limits l) { return l.set_celsius; }, ""},
    {"upper-limit", "degC", false, [](Read r, Limits) { return Measured{r.high_celsius}; },
     [](Limits l) { return l.set_celsius + l.band_kelvin; }, kBands},
    {"saturation-superheat", "K", false, superheat, [](Limits l) { return l.steam_kelvin; }, kSteam},
    {"saturation-deficit", "K", false, deficit, [](Limits l) { return l.steam_kelvin; }, kSteam},
    {"drying", "min", true, [](Read r, Limits) { return Measured{r.drying_minutes.value_or(0)}; },
     [](Limits l) { return l.drying_minutes; }, ""},
};

Standing standing_of(const CriterionResult& result) {
  if (result.code == "drying" && result.limit <= 0) return Standing::NotAsked;
  if (!result.margin || !std::isfinite(*result.margin)) return Standing::Unknown;
  return *result.margin >= 0 ? Standing::Met : Standing::NotMet;
}

CriterionResult judge(const Criterion& row, Read readings, Limits limits, bool whole) {
  CriterionResult result;
  result.code = row.code;
  result.unit = row.unit;
  result.at_least = row.at_least;
  result.source = std::string{row.source.empty() ? limits.program_source : row.source};
  result.limit = row.limit(limits);
  if (whole) result.measured = row.measured(readings, limits);
  if (result.measured) {
    result.margin = row.at_least ? *result.measured - result.limit : result.limit - *result.measured;
  }
  result.standing = standing_of(result);
  return result;
}

}  // namespace

std::vector<CriterionResult> judge_readings(const Readings& readings, const CycleLimits& limits) {
  std::vector<CriterionResult> results;
  for (const Criterion& row : kCriteria) results.push_back(judge(row, readings, limits, are_whole(readings)));
  return results;
}

}  // namespace loadlight::core
