// Where a record lies, and whether it is the one that its office works on.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "loadlight/core/result.h"
#include "loadlight/port/store.h"
#include "loadlight/port/whereabouts.h"

namespace loadlight::store {

using port::Standing;
using port::Whereabouts;

struct RecordPlace final {
  std::string folder{};   // either this, for a record in SQLite,
  std::string address{};  // or this, for one in PostgreSQL
  std::string office{};   // of an address whose role leads the group: the office's name
};

core::Result<Whereabouts> whereabouts_of(const RecordPlace& place);
// Once this returns, no change that was under way is still to come where the record was closed, and a ledger in
// PostgreSQL that was opened goes on behind its last entry.
core::Result<void> set_whereabouts(const RecordPlace& place, const Whereabouts& whereabouts);

// True when nothing was ever written in it.
core::Result<bool> is_empty_record(const RecordPlace& place);
// As Store::verify(), wherever the office is.
core::Result<std::vector<port::Alteration>> verify_place(
    const RecordPlace& place, const std::function<bool(const port::VerifyProgress&)>& goes_on = {});

}  // namespace loadlight::store
