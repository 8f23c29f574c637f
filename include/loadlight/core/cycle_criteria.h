// A cycle log against what its program asks: one line a criterion, with what was measured, the limit, by
// how much it was kept or missed, and where the limit comes from. The rows are in cycle_criteria.cpp; words
// are in templates/words under "criterion.<code>".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/cycle.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

// Defaults tagged "from memory" in the rows' sources are an office's to set.
struct CycleLimits final {
  double set_celsius = 0;
  double exposure_minutes = 0;
  double drying_minutes = 0;  // 0: none is asked
  double margin_kelvin = kSensorMarginKelvin;
  double band_kelvin = 3;         // the band's width above set_celsius
  double steam_kelvin = 2;        // between measured and saturated steam's temperature
  double fluctuation_kelvin = 1;  // plus or minus
  // Of temperature, exposure and drying; must outlive the results.
  std::string_view program_source = "the load's program";
};

// Unknown: a fact is missing that could speak against the load. NotAsked: the program sets no limit.
enum class Standing { Met, NotMet, Unknown, NotAsked };

struct CriterionResult final {
  std::string_view code;
  Standing standing = Standing::Unknown;
  std::optional<double> measured;
  double limit = 0;
  bool at_least = true;          // the limit is the least allowed; else the most allowed
  std::optional<double> margin;  // negative: missed by so much
  std::string_view unit;         // "min", "degC", "K", "s", "samples", "cycle"
  std::string source;
};

// Every criterion, in the table's order.
std::vector<CriterionResult> judge_cycle(const CycleFindings& findings, const CycleLimits& limits);
std::vector<std::string_view> all_criteria();

template <>
struct Vocabulary<Standing> {
  static constexpr Term<Standing> kTerms[] = {{Standing::Met, "met"},
                                              {Standing::NotMet, "not-met"},
                                              {Standing::Unknown, "unknown"},
                                              {Standing::NotAsked, "not-asked"}};
};

}  // namespace loadlight::core
