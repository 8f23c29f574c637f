// Records of earlier programs, brought to the schema of this one.
#pragma once

#include <string>

#include "loadlight/core/result.h"
#include "sqlite_session.h"

namespace loadlight::store {

// The oldest schema that records are kept in.
inline constexpr int kFirstSchema = 2;

// Where the record as it was before the steps is kept, beside the record itself.
std::string kept_record_path(const std::string& record_path, int version);

// From `version` (kFirstSchema or later) to kSchemaVersion: first a copy is put beside the record, readable by
// its owner alone, then every step is taken in one transaction. A program that did the same meanwhile is no
// fault. On failure the record is as it was.
core::Result<void> bring_up_to_date(SqliteSession& session, const std::string& record_path, int version);

}  // namespace loadlight::store
