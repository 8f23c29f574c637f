// Regulatory profiles: named, versioned rows of values, each with its source. A rule never holds such a
// value itself; the profile and its version are stored with every decision.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "loadlight/core/dates.h"
#include "loadlight/core/office.h"

namespace loadlight::core {

struct Profile final {
  std::string_view code;
  int version;  // raised whenever a value of the row changes
  // The longest a package may be kept after its process date, whatever its label says; none: no cap.
  std::optional<int> wrapped_cap_months;
  std::optional<int> unwrapped_cap_days;
  std::string_view source;
};

std::span<const Profile> all_profiles();
const Profile* find_profile(std::string_view code);  // null if unknown

// The last day, included, on which the profile lets a package of this wrapping be used; none: no cap.
std::optional<CivilDate> last_day_by_profile(const Profile& profile, Wrapping wrapping,
                                             CivilDate process_date);

}  // namespace loadlight::core
