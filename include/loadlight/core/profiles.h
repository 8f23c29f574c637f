// Regulatory profiles: named, versioned sets of values, each value a row with its source (profiles.cpp). A
// rule never holds such a value itself; the profile, its version and the office's own settings are stored
// with every decision.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/office.h"
#include "loadlight/core/upkeep.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

// How often a sterilizer in use is tested with a biological indicator; loads with implants always are.
enum class Frequency { Off, Daily, Weekly, Monthly, Quarterly };

// Whether a biological indicator speaks for every program of its sterilizer or only for its own.
enum class BiologicalChains { Pooled, PerProgram };

// What a mail-in result says whose control the service does not report.
enum class UnreportedControl { Invalid, Accepted };

// What a type 5 or 6 indicator in the process challenge device may release before the biological result.
enum class EarlyRelease { Never, WithoutImplant };

// What a temperature above the band does to a release.
enum class AboveBand { Note, Hold };

// What is done when a biological indicator grows (incident_steps.h).
enum class Procedure { Dental2003, Facility2008, Conservative };

// When solid unwrapped items of a type N sterilizer are packed.
enum class TypeNPacking { NotPacked, AfterProgram };

// Whose decision a release is: of any operator who works here today, or of a lead.
enum class Decider { Anyone, Lead };

inline constexpr int kOldestCopyMinutes = 240;

struct Profile final {
  std::string code;
  int version = 0;  // raised whenever a value of the profile changes
  // The longest a package may be kept after its process date, whatever its label says; none: no cap.
  std::optional<int> wrapped_cap_months;
  std::optional<int> unwrapped_cap_days;
  Frequency biological = Frequency::Weekly;
  BiologicalChains chains = BiologicalChains::Pooled;
  UnreportedControl unreported_control = UnreportedControl::Invalid;
  bool tested_load_waits = false;  // a load with a BI waits for its result, implant or not
  EarlyRelease early_release = EarlyRelease::Never;
  Frequency air_removal_test = Frequency::Daily;  // Bowie-Dick, dynamic air removal only
  Frequency leak_test = Frequency::Off;
  AboveBand above_band = AboveBand::Note;
  double sensor_margin_kelvin = 0.5;  // added to the set temperature before exposure counts
  double steam_kelvin = 2;            // measured against saturated steam, either way
  Procedure procedure = Procedure::Conservative;
  TypeNPacking type_n_packing = TypeNPacking::NotPacked;
  std::optional<int> retention_months;  // none: no number was read; nothing is ever deleted anyway
  // To take a release back is the safe direction and is always anyone's.
  Decider release_by = Decider::Lead;
  Decider emergency_by = Decider::Lead;  // a lead: at least one of the two people an emergency needs
  int idle_lock_minutes = 10;  // 1 to 60: a browser nobody touches that long acts for nobody any more
  // 0 to 240: how old this station's own copy of the record may be for a package to be judged by it while the record
  // cannot be reached; 0: such a package holds.
  int local_copy_minutes = 0;
  std::vector<std::string> own;         // names of the settings that the office set itself

  // "us-cdc-2003 3", with the office's own settings named: "us-cdc-2003 3, own: above-band".
  std::string text() const;
};

std::span<const Profile> all_profiles();
const Profile* find_profile(std::string_view code);  // null if unknown

// One value of a profile: its name, its text, where it comes from. Values are texts so that the office can
// set its own; profiles.cpp says what each name takes.
struct ProfileValue final {
  std::string_view profile;
  std::string_view name;
  std::string_view value;
  std::string_view source;
};
std::span<const ProfileValue> all_profile_values();
// Every name that a profile has a value for, in the order in which they are shown.
std::vector<std::string_view> profile_value_names();
// The value of one name as text, as `own` settings have left it; empty for an unknown name.
std::string value_of(const Profile& profile, std::string_view name);
// False, and nothing changed, for an unknown name or a value that it cannot take.
bool set_value(Profile& profile, std::string_view name, std::string_view value);

// The profile as this office uses it. Settings that no longer parse are left out.
Profile with_settings(Profile profile, std::span<const OfficeSetting> settings);

// The last day, included, on which the profile lets a package of this wrapping be used; none: no cap.
std::optional<CivilDate> last_day_by_profile(const Profile& profile, Wrapping wrapping,
                                             CivilDate process_date);

template <>
struct Vocabulary<Frequency> {
  static constexpr Term<Frequency> kTerms[] = {{Frequency::Off, "off"},
                                               {Frequency::Daily, "daily"},
                                               {Frequency::Weekly, "weekly"},
                                               {Frequency::Monthly, "monthly"},
                                               {Frequency::Quarterly, "quarterly"}};
};
template <>
struct Vocabulary<BiologicalChains> {
  static constexpr Term<BiologicalChains> kTerms[] = {{BiologicalChains::Pooled, "pooled"},
                                                      {BiologicalChains::PerProgram, "per-program"}};
};
template <>
struct Vocabulary<UnreportedControl> {
  static constexpr Term<UnreportedControl> kTerms[] = {{UnreportedControl::Invalid, "invalid"},
                                                       {UnreportedControl::Accepted, "accepted"}};
};
template <>
struct Vocabulary<EarlyRelease> {
  static constexpr Term<EarlyRelease> kTerms[] = {{EarlyRelease::Never, "never"},
                                                  {EarlyRelease::WithoutImplant, "without-implant"}};
};
template <>
struct Vocabulary<AboveBand> {
  static constexpr Term<AboveBand> kTerms[] = {{AboveBand::Note, "note"}, {AboveBand::Hold, "hold"}};
};
template <>
struct Vocabulary<Procedure> {
  static constexpr Term<Procedure> kTerms[] = {{Procedure::Dental2003, "dental-2003"},
                                               {Procedure::Facility2008, "facility-2008"},
                                               {Procedure::Conservative, "conservative"}};
};
template <>
struct Vocabulary<TypeNPacking> {
  static constexpr Term<TypeNPacking> kTerms[] = {{TypeNPacking::NotPacked, "not-packed"},
                                                  {TypeNPacking::AfterProgram, "after-program"}};
};

template <>
struct Vocabulary<Decider> {
  static constexpr Term<Decider> kTerms[] = {{Decider::Anyone, "anyone"}, {Decider::Lead, "lead"}};
};

}  // namespace loadlight::core
