// Does a database still state what made it?
#pragma once

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

// Tables, indexes and rules that are missing or changed, and what this program never made: rules that keep the
// ledger from shrinking could be taken away, or others laid beside them. Nothing where the engine keeps no words.
core::Result<std::vector<port::Alteration>> schema_alterations(SqlSession& session);

}  // namespace loadlight::store
