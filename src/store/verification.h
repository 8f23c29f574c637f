// Has the record been altered behind the ledger's back?
#pragma once

#include <functional>
#include <vector>

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

// Makes the temporary table in which the session keeps what is expected. Before the transaction.
core::Result<void> lay_out_verification(SqlSession& session);

// Looks at one state of the record, in the transaction that the caller has begun. What it expects of
// every row goes into the session's temporary table, so memory stays bounded. `goes_on` may be empty.
core::Result<std::vector<port::Alteration>> verify_record(
    SqlSession& session, const std::function<bool(const port::VerifyProgress&)>& goes_on);

}  // namespace loadlight::store
