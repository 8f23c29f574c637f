// Offices of a group: their records lie in its database, their keys and PINs in this station's folder.
#pragma once

#include <string>

#include "loadlight/app/world.h"
#include "loadlight/store/group_part.h"
#include "loadlight/store/record.h"

namespace loadlight {

// The part that speaks with PostgreSQL, loaded when it is first asked for: PartUnavailable.
core::Result<const store::GroupPart*> group_part();

core::Result<app::OfficeLeaves> open_group_office(const std::string& address, store::RecordOptions options);

// Makes this station the office's first, whose record must be empty.
core::Result<app::OfficeLeaves> make_group_office(const std::string& address, const port::Clock& clock,
                                                  store::RecordOptions options);

core::Result<void> add_group_key(const std::string& address, const port::Clock& clock);

// Keeps in the database, for the office's other stations, the keys that lie on this machine, and makes it a station of
// the office unless it is one.
core::Result<void> hand_group_keys(const std::string& address, const port::Clock& clock);

app::GroupDoor make_group_door();

}  // namespace loadlight
