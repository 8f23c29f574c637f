#include "loadlight/core/profiles.h"

#include <array>

namespace loadlight::core {
namespace {

// Columns: code, version, cap for wrapped packages (months), cap for unwrapped items (days), source.
constexpr std::array<Profile, 5> kProfiles{{
    {"us-cdc-2003", 1, std::nullopt, std::nullopt,
     "CDC MMWR 52(RR-17) 2003, Storage: date-related or event-related shelf life, no fixed cap"},
    {"us-cdc-2008", 1, std::nullopt, std::nullopt,
     "CDC Guideline for Disinfection and Sterilization 2008: contamination is event-related"},
    {"ontario", 1, std::nullopt, std::nullopt,
     "RCDSO IPAC standard 2018 states what a label bears; it sets no cap that was read"},
    {"uk", 1, 12, 1,
     "HTM 01-05 (2013) 2.4k(i): wrapped up to 1 year; 2.4k(ii): unwrapped in the clinical area 1 day"},
    {"office", 1, std::nullopt, std::nullopt, "the office's own settings"},
}};

}  // namespace

std::span<const Profile> all_profiles() { return kProfiles; }

const Profile* find_profile(std::string_view code) {
  for (const Profile& profile : kProfiles) {
    if (profile.code == code) return &profile;
  }
  return nullptr;
}

std::optional<CivilDate> last_day_by_profile(const Profile& profile, Wrapping wrapping,
                                             CivilDate process_date) {
  if (is_wrapped(wrapping)) {
    if (!profile.wrapped_cap_months) return std::nullopt;
    return process_date.plus_months(*profile.wrapped_cap_months);
  }
  if (!profile.unwrapped_cap_days) return std::nullopt;
  return process_date.plus_days(*profile.unwrapped_cap_days);
}

}  // namespace loadlight::core
