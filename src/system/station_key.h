// The key with which a station signs checkpoints (Ed25519, RFC 8032), in its own folder.
#pragma once

#include <string>

#include "loadlight/core/checkpoint.h"
#include "loadlight/core/result.h"

namespace loadlight::system {

// Signs with the key of this folder, which is made, private to its user, where there is none; two who make it
// at once end up with the same. FileUnwritable, DiskFull or FileUnreadable (details: path, why).
core::Result<core::Checkpoint> sign_checkpoint(const std::string& station_folder, core::Checkpoint checkpoint);

// The public half as hex digits; empty when there is no key, or none that can be read.
std::string public_key(const std::string& station_folder);

// True iff the signature is what the key that it names makes of it.
bool is_genuine(const core::Checkpoint& checkpoint);

}  // namespace loadlight::system
