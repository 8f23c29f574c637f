// The office's keys, kept in its folder as keys.json, readable and writable by its owner alone (0600).
//
//   {"keys": [{"id": 1, "made_at": <milliseconds since 1970, UTC>, "key": "<64 hex digits>"}, ...]}
//
// Ids rise by one from 1; the last key is the current one, all verify. Keys are added, never removed.
#pragma once

#include <memory>
#include <string>

#include "loadlight/core/dates.h"
#include "loadlight/core/result.h"
#include "loadlight/port/keyring.h"

namespace loadlight::system {

// The keys of an office. KeysUnreadable (details: path, why) when the file is absent, cannot be read or
// is not such a list. Once open, keys that can no longer be read stay those that were read last.
core::Result<std::unique_ptr<port::Keyring>> open_keyring(const std::string& office_folder);

// Makes the first key. FileExists when the folder has keys already; FileUnwritable or DiskFull.
core::Result<std::unique_ptr<port::Keyring>> create_keyring(const std::string& office_folder,
                                                            core::Instant now);

// Adds a key, which is then the current one, also for whoever has the keyring open: it is read again when
// another file stands in its place. The old file stays as it was on any failure. One at a time: the caller
// holds the office.
core::Result<void> add_key(const std::string& office_folder, core::Instant now);

}  // namespace loadlight::system
