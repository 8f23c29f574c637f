// A line of the queue of what was done while the record could not be reached: an object of JSON, id, kind, at
// (milliseconds), operator, subject, details (a list of pairs).
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "loadlight/port/local_copy.h"

namespace loadlight::system {

std::string print_queued(const port::QueuedAct& act);  // without the line's end
std::optional<port::QueuedAct> parse_queued(std::string_view line);

}  // namespace loadlight::system
