// Queries of the office's own settings.
#pragma once

#include "loadlight/core/office.h"
#include "sql_session.h"

namespace loadlight::store {

// RecordDamaged when no office was ever made in this record.
core::Result<core::Office> read_office(SqlSession& session);

}  // namespace loadlight::store
