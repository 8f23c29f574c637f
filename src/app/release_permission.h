// Whose decision a release is, by the profile in force.
#pragma once

#include <optional>
#include <string>

#include "loadlight/app/act.h"
#include "loadlight/core/profiles.h"

namespace loadlight::app {

// ReleaseNeedsLead. Without a profile only a lead may.
core::Result<void> may_release(const Act& act, const std::optional<core::Profile>& profile);

// Before the biological result, as an emergency, together with `second`: ReasonMissing, OperatorUnknown or
// OperatorNotCurrent about the second person; ReleaseNeedsLead, EmergencyNeedsLead.
core::Result<void> may_release_early(const Act& act, const std::optional<core::Profile>& profile,
                                     const std::string& second);

}  // namespace loadlight::app
