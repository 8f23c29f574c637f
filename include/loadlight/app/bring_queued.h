// Use case: what this station did without the record waits beside the place where the office was; it has moved from there
// before it was written.
#pragma once

#include <string>

#include "loadlight/app/queued_acts.h"
#include "loadlight/app/world.h"

namespace loadlight::app {

// Writes what waits beside `left`, the address that the office has left, into the office as it is now, as write_queued does.
// BadValue for a folder: nothing waits beside one; RecordsDiffer when it is of another office, whose packages are not
// known here: then nothing was written.
core::Result<QueueReply> bring_queued(const World& world, const Ports& ports, const std::string& left);

}  // namespace loadlight::app
