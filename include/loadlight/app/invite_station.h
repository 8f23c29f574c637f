// Hands an office of a group to another station.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/app/ports.h"
#include "loadlight/app/world.h"

namespace loadlight::app {

// Whoever has the code reads the office's keys: it is for a lead to give, and the record says that it was given.
// LeadRequired, OfficeNotShared (an office in a folder), StationNotJoined.
core::Result<Invitation> invite_station(const World& world, const std::string& office, const Ports& ports,
                                        std::string_view operator_code);

}  // namespace loadlight::app
