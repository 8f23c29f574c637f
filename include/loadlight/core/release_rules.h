// May this load be released? The facts are fetched by the use case; the rules, one row a reason, are in
// release_rules.cpp.
#pragma once

#include <optional>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/load.h"
#include "loadlight/core/office.h"
#include "loadlight/core/programs.h"
#include "loadlight/core/verdict.h"

namespace loadlight::core {

// An absent optional is a fact that could not be had: it holds. Two of them are evidence that may not
// have been given yet and have reasons of their own: `readings` and an empty `indicators`.
struct LoadFacts final {
  LoadState state = LoadState::Open;
  LoadPurpose purpose = LoadPurpose::Process;
  std::optional<Program> program;
  std::optional<AirRemoval> removal;
  std::optional<SterilizerType> type;
  std::optional<bool> in_service;
  std::optional<bool> holds_wrapped;  // at least one wrapped package
  std::optional<bool> holds_hollow;   // at least one hollow item
  std::optional<bool> holds_implant;
  std::optional<int> wet_packages;    // withdrawn as wet on unloading
  std::optional<Readings> readings;
  std::vector<IndicatorReading> indicators;
  std::vector<BiologicalReading> biologicals;
  std::optional<CivilDate> process_date;
  std::optional<bool> clock_behind;
};

// Several wet packages hold the load; a single one is withdrawn alone (common practice).
inline constexpr int kWetPackagesThatHold = 2;

// The width of the temperature band above the set temperature (EN 13060 bands, from memory): above it is
// a note, not a reason.
inline constexpr double kBandKelvin = 3;

Verdict judge_release(const LoadFacts& facts);

// What a load's state alone says of its packages: Clear for a released one, a reason for every other.
Verdict verdict_of_state(LoadState state);

// True iff this result shows no growth beside a control of the same lot that grew.
bool is_valid_negative(const BiologicalReading& reading);

}  // namespace loadlight::core
