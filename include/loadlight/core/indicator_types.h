// What a chemical indicator of each type of ISO 11140-1 may support. The numbers name kinds and rank
// nothing: no type stands for another because its number is higher.
#pragma once

#include <span>
#include <string_view>

#include "loadlight/core/evidence.h"
#include "loadlight/core/load.h"
#include "loadlight/core/profiles.h"

namespace loadlight::core {

struct IndicatorType final {
  int number = 0;  // 1 to 6
  std::string_view code;
  bool outside_package = false;    // tells a processed package from another
  bool inside_package = false;     // confirmed when the package is opened
  bool process_challenge = false;  // in the process challenge device of a load
  bool air_removal = false;        // the daily air-removal test, and nothing else
  bool early_release = false;      // from the process challenge device, where the profile allows it
  bool own_program_only = false;   // it states a program and speaks for no other
  std::string_view source;
};

std::span<const IndicatorType> all_indicator_types();
const IndicatorType* find_indicator_type(int number);  // null if there is no such type

// True iff an indicator of this type, read at this place in a load of this purpose, is evidence of
// anything. A reading that may not stand is kept and counts for nothing.
bool may_stand(int type, IndicatorPlace place, LoadPurpose purpose);

// True iff the indicator speaks for a program of this temperature (degrees Celsius) and exposure: of types
// that state no program, every one does; one of type 6 only where it states this very program. What is
// stated is compared as printed: to 0.05 degrees and to a second.
bool states_program(const IndicatorReading& reading, double celsius, double exposure_minutes);

// True iff this reading, passed, may release a load before its biological result is known.
bool may_release_early(const IndicatorReading& reading, double celsius, double exposure_minutes,
                       EarlyRelease allowed, bool implant_aboard);

}  // namespace loadlight::core
