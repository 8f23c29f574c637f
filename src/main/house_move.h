// Offices that move between a folder and a group's database.
#pragma once

#include "loadlight/app/moving_door.h"
#include "loadlight/port/clock.h"

namespace loadlight {

// The clock must live as long.
app::MovingDoor make_moving_door(const port::Clock& clock);

// A record in a group's database as one in SQLite, `path` being record.db in a folder that has none. RecordAltered when
// the one there is not whole.
core::Result<void> copy_group_record(const std::string& address, const std::string& path);

}  // namespace loadlight
