// Which profile and which program govern: the profile with the office's own settings, a program from the
// table or as the office entered it.
#pragma once

#include <optional>
#include <string_view>

#include "loadlight/app/ports.h"
#include "loadlight/core/profiles.h"
#include "loadlight/core/programs.h"

namespace loadlight::app {

// RecordDamaged when the office names a profile that this program does not know.
core::Result<core::Profile> profile_in_force(const port::Unit& unit, const core::Office& office);

// Nothing for a code that neither the office nor the table knows, and for an entered program of another
// sterilizer. Retired ones still govern the loads that name them.
core::Result<std::optional<core::Program>> program_in_force(const port::Unit& unit, std::string_view code,
                                                            std::string_view sterilizer);

}  // namespace loadlight::app
