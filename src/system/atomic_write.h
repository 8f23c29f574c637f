// Replacing a file as a whole.
#pragma once

#include <sys/types.h>

#include <string>
#include <string_view>

#include "loadlight/core/result.h"

namespace loadlight::system {

inline constexpr mode_t kOwnerOnly = 0600;
inline constexpr mode_t kByUmask = 0666;

// Writes `bytes` to a new file of `mode` (less the umask) in the folder of `path`, syncs it, renames it to
// `path` and syncs the folder. On failure nothing of it stays. FileUnwritable or DiskFull.
core::Result<void> write_atomically(const std::string& path, std::string_view bytes, mode_t mode);

}  // namespace loadlight::system
