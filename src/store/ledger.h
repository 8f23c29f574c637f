// The ledger: every event in the order it happened, each chained to the one before by its hash.
#pragma once

#include <optional>
#include <string>

#include "loadlight/core/events.h"
#include "loadlight/port/store.h"
#include "record_table.h"

namespace loadlight::store {

// The hash before the first entry.
extern const std::string kNoHash;

// Where a chain of the ledger stands: one row, kept in the transaction that appends. It makes a cut tail visible
// and the newest event one look-up.
struct LedgerHead final {
  std::string chain;          // empty: the only one
  std::int64_t sequence = 0;  // of the last entry
  std::int64_t link = 0;      // its number in the chain, where that is not the sequence
  std::string hash = kNoHash;
  // The latest time that an event carries, since the last clock correction (that one included).
  std::optional<core::Instant> newest_at;

  friend bool operator==(const LedgerHead&, const LedgerHead&) = default;
};

template <>
const RecordTable<core::LedgerEntry>& table_of();
template <>
const RecordTable<LedgerHead>& table_of();

core::Result<void> begin_ledger(SqlSession& session);
// Of the session's own chain; as it is before its first entry where a named one has none.
core::Result<LedgerHead> read_head(SqlSession& session);
core::Result<void> write_head(SqlSession& session, const LedgerHead& head);
// Of all chains, by name.
core::Result<std::vector<LedgerHead>> read_heads(SqlSession& session);
// The latest of all chains.
core::Result<std::optional<core::Instant>> newest_event_of(SqlSession& session);

// The hash of an entry; nothing where there is none.
core::Result<std::optional<std::string>> hash_of_entry(SqlSession& session, std::int64_t sequence);

// Appends the event of a change whose records make up `body` (row_json.h); where the ledger stands then.
core::Result<LedgerHead> append_entry(SqlSession& session, const core::Change& change, std::string body);

// Of one kind, about one subject, by sequence.
core::Result<std::vector<core::LedgerEntry>> entries_about(SqlSession& session, std::string_view subject,
                                                           core::EventKind kind);

// In the order of the ledger.
core::Result<std::vector<core::LedgerEntry>> entries_found(SqlSession& session,
                                                           const port::LedgerSearch& search);

// Each chain counts its own entries, without gaps: one with a name by link, the one without by sequence, and by link
// once entries of others stand between its own.
std::int64_t number_in_chain(const core::LedgerEntry& entry);
std::int64_t number_in_chain(const LedgerHead& head);

// SHA-256 as 64 lower-case hex digits.
std::string sha256(std::string_view bytes);
// What an entry's hash must be, whatever it says.
std::string entry_hash(const core::LedgerEntry& entry);
// Where a chain stands once this entry follows in it.
LedgerHead head_after(const LedgerHead& before, const core::LedgerEntry& entry);
// A correction of the clock counts for every chain: what their events said before is over.
bool corrects_clock(const core::LedgerEntry& entry);

}  // namespace loadlight::store
