// What SQLite reports, as failures of ours: the one place that knows SQLite's codes.
#pragma once

#include "loadlight/core/failure.h"

struct sqlite3;

namespace loadlight::store {

// The failure that the latest call on this connection met. Details: path, why.
core::Failure latest_failure(sqlite3* database);

}  // namespace loadlight::store
