// Lines from an open file descriptor, such as standard input.
#pragma once

#include <memory>

#include "loadlight/port/line_source.h"

namespace loadlight::system {

inline constexpr int kStandardInput = 0;
inline constexpr int kNoInput = -1;  // only waits for a signal

// Reads `descriptor`, which stays the caller's. While the source lives, SIGINT and SIGTERM end the waiting
// instead of the process; their former handlers come back when it goes. One such source at a time.
std::unique_ptr<port::LineSource> open_line_source(int descriptor);

}  // namespace loadlight::system
