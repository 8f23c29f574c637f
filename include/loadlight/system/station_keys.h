// The keys of an office in a group's database, as this station keeps them: keys.json in a folder of its own, as in any
// office, and beside it what makes the station one of the office's (station.json). The database holds the keys for
// the other stations, wrapped.
#pragma once

#include <string>

#include "loadlight/core/dates.h"
#include "loadlight/core/result.h"

namespace loadlight::system {

// Makes this station the office's first: a name for its chain, a key to hand the office's keys over under, and the
// office's first key. FileExists when it is one of the office's already; BadValue (a name that is none); FileUnwritable
// or DiskFull. An empty name: this machine's.
core::Result<void> found_station(const std::string& folder, const std::string& station, core::Instant now);

// Makes this station one of the office's: the code is what invitation_of() gave at another, `wrapped` what the
// database holds. JoinCodeWrong when they do not fit each other; else as above.
core::Result<void> join_station(const std::string& folder, const std::string& station, const std::string& code,
                                const std::string& wrapped);

// StationNotJoined unless this station is one of the office's (so for the rest).
core::Result<std::string> invitation_of(const std::string& folder);
core::Result<std::string> station_name(const std::string& folder);

// The keys of this folder as the database is to hold them.
core::Result<std::string> wrapped_keys(const std::string& folder);
// The same with one more, the current one; this folder stays as it is.
core::Result<std::string> wrapped_with_another_key(const std::string& folder, core::Instant now);
// Puts what the database holds in the place of this folder's keys when it has more. KeysUnreadable when it is not
// ours, or lacks a key of ours.
core::Result<void> take_wrapped_keys(const std::string& folder, const std::string& wrapped);

}  // namespace loadlight::system
