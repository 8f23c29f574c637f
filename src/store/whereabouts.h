// Whether an office's record is the one to work on: a row beside the ledger, which speaks of the database alone and so
// stands in no event. None: it is.
#pragma once

#include "loadlight/store/place.h"
#include "record_table.h"
#include "sql_session.h"

namespace loadlight::store {

template <>
const RecordTable<Whereabouts>& table_of();

core::Result<Whereabouts> read_whereabouts(SqlSession& session);
// In the transaction that the caller has begun.
core::Result<void> write_whereabouts(SqlSession& session, const Whereabouts& whereabouts);

// OfficeMoved, OfficeArriving (details: path, place) unless it is here.
core::Result<void> must_be_here(SqlSession& session);

}  // namespace loadlight::store
