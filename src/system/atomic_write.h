// Replacing a file as a whole.
#pragma once

#include <sys/types.h>

#include <string>
#include <string_view>

#include "loadlight/core/result.h"

namespace loadlight::system {

inline constexpr mode_t kOwnerOnly = 0600;
inline constexpr mode_t kOwnerWrites = 0644;  // read by everybody: certificates

// Writes `bytes` to a new file of `mode` (less the umask) in the folder of `path`, syncs it, renames it to
// `path` and syncs the folder. On failure nothing of it stays. FileUnwritable or DiskFull.
core::Result<void> write_atomically(const std::string& path, std::string_view bytes, mode_t mode);

// Makes the name of a new file outlast a power cut: its folder is synced. 0 or an errno value.
int sync_name(const std::string& path);

}  // namespace loadlight::system
