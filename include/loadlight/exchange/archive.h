// Several files as one: a tar archive (POSIX.1-1988, "ustar"), which every system unpacks.
#pragma once

#include <string>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/result.h"

namespace loadlight::exchange {

struct ArchivedFile final {
  std::string path;  // ASCII, relative, at most 100 bytes
  std::string bytes;
};

// Readable and writable by their owner alone once they are unpacked. BadValue for a path that does not fit.
core::Result<std::string> make_archive(const std::vector<ArchivedFile>& files, core::Instant made);

}  // namespace loadlight::exchange
