// Has the record been altered behind the ledger's back?
#pragma once

#include <functional>
#include <vector>

#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

// Looks at one state of the record, in the transaction that the caller has begun. Lays down what it expects
// of every row in a temporary table of the session, so memory stays bounded. `goes_on` may be empty.
core::Result<std::vector<port::Alteration>> verify_record(
    SqlSession& session, const std::function<bool(const port::VerifyProgress&)>& goes_on);

}  // namespace loadlight::store
