// Time zones of the machine's IANA database.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "loadlight/core/result.h"
#include "loadlight/port/zone.h"

namespace loadlight::system {

// The zone of an IANA name, for example "Asia/Kathmandu". ZoneUnknown (detail: zone) when the database
// has none of that name or is not installed.
core::Result<std::unique_ptr<port::Zone>> open_zone(const std::string& name);

// The names that the database has for places, such as "Europe/Berlin", and "UTC"; in the order of the alphabet.
// Empty when it is not installed.
std::vector<std::string> zone_names();

// The IANA name of the machine's own zone; "UTC" when it cannot be told. Respects $TZ when that is a name.
std::string system_zone_name();

}  // namespace loadlight::system
