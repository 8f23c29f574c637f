#include "loadlight/core/indicator_types.h"

#include <algorithm>
#include <cmath>

namespace loadlight::core {
namespace {

constexpr std::string_view kEarlyRelease =
    "ST79 2006 10.6.1: with the BI for implants; CDA Essentials 2020 issue 4 p. 28: early release, no "
    "implant";
constexpr double kPrintedKelvin = 0.05;       // half of the last digit that is printed
constexpr double kPrintedMinutes = 1.0 / 60;  // exposures are stated in minutes and seconds

// clang-format off
// Outside of a package any of them but a Bowie-Dick sheet tells an exposed one from an unexposed one (common
// practice).
// number, code, outside, inside, challenge, air removal, early release, own program only, source
constexpr IndicatorType kTypes[] = {
    {1, "process", true, false, false, false, false, false,
     "ISO 11140-1:2014 as reported: outside of packages, exposed or not; never supports a release"},
    {2, "specific-use", false, false, false, true, false, false,
     "ISO 11140-1:2014 as reported: Bowie-Dick and air removal, the daily test of the equipment only"},
    {3, "single-variable", true, true, false, false, false, false,
     "ISO 11140-1:2014 as reported: one critical variable, inside packages"},
    {4, "multi-variable", true, true, false, false, false, false,
     "ISO 11140-1:2014 as reported; ST79 2006 10.5.2.2.2: inside packages"},
    {5, "integrating", true, true, true, false, true, false, kEarlyRelease},
    {6, "emulating", true, true, true, false, true, true,
     "ISO 11140-1:2014 as reported: one stated program; CDA Essentials 2020 issue 4 p. 28"},
};
// clang-format on

bool has_place(const IndicatorType& type, IndicatorPlace place) {
  switch (place) {
    case IndicatorPlace::External:
      return type.outside_package;
    case IndicatorPlace::Internal:
      return type.inside_package;
    case IndicatorPlace::ProcessChallenge:
      return type.process_challenge;
  }
  return false;
}

// NaN is near nothing.
bool near(const std::optional<double>& stated, double programmed, double within) {
  return stated && std::abs(*stated - programmed) <= within;
}

}  // namespace

std::span<const IndicatorType> all_indicator_types() {
  return kTypes;
}

const IndicatorType* find_indicator_type(int number) {
  const auto row = std::ranges::find(kTypes, number, &IndicatorType::number);
  return row == std::end(kTypes) ? nullptr : row;
}

bool may_stand(int type, IndicatorPlace place, LoadPurpose purpose) {
  const IndicatorType* row = find_indicator_type(type);
  if (!row) return false;
  switch (purpose) {
    case LoadPurpose::Process:
    case LoadPurpose::Retest:
      return has_place(*row, place);
    case LoadPurpose::BowieDick:
      return row->air_removal;  // the sheet is the load: its place says nothing
    case LoadPurpose::Leak:
      return false;
  }
  return false;
}

bool states_program(const IndicatorReading& reading, double celsius, double exposure_minutes) {
  const IndicatorType* row = find_indicator_type(reading.type);
  if (!row || std::isnan(celsius) || std::isnan(exposure_minutes)) return false;
  return !row->own_program_only || (near(reading.stated_celsius, celsius, kPrintedKelvin) &&
                                    near(reading.stated_minutes, exposure_minutes, kPrintedMinutes));
}

bool may_release_early(const IndicatorReading& reading, double celsius, double exposure_minutes,
                       EarlyRelease allowed, bool implant_aboard) {
  const IndicatorType* row = find_indicator_type(reading.type);
  return allowed == EarlyRelease::WithoutImplant && !implant_aboard && row && row->early_release &&
         reading.passed && reading.place == IndicatorPlace::ProcessChallenge &&
         states_program(reading, celsius, exposure_minutes);
}

}  // namespace loadlight::core
