// An entry's hash is SHA-256 over these bytes; nothing in an entry can be moved from one field to another
// without changing them:
//
//   hashed   = "loadlight ledger 1" LF  field field field field field field field
//   fields   = sequence, at, operator, kind, subject, body, previous, in this order
//   of an entry whose chain has a name, or counts by link: "loadlight ledger 2" LF, and the fields chain and link before those
//   field    = length ":" bytes LF
//   length   = decimal count of the bytes
//   sequence, at = decimal, at in milliseconds since 1970-01-01 UTC; the others as stored, UTF-8
#include "ledger.h"

#include <sodium.h>

#include <algorithm>
#include <array>
#include <utility>

namespace loadlight::store {

using core::LedgerEntry;

const std::string kNoHash(64, '0');

namespace {

void add_field(std::string& hashed, std::string_view bytes) {
  hashed.append(std::to_string(bytes.size())).append(":").append(bytes).append("\n");
}

std::int64_t link_after(const LedgerHead& head, std::int64_t sequence) {
  const std::int64_t number = number_in_chain(head) + 1;
  const bool by_sequence = head.chain.empty() && head.link == 0 && number == sequence;
  return by_sequence ? 0 : number;
}

LedgerEntry entry_after(const LedgerHead& head, std::int64_t sequence, const core::Change& change,
                        std::string body) {
  LedgerEntry entry{sequence,
                    change.at,
                    change.operator_code,
                    std::string{core::to_text(change.kind)},
                    change.subject,
                    std::move(body),
                    head.hash,
                    {},
                    head.chain,
                    link_after(head, sequence)};
  entry.hash = entry_hash(entry);
  return entry;
}

// A correction of the clock sets every chain's newest event, but not that of a chain that begins at the same moment: it
// does not see its head yet. The one writes, without a change, what the other reads, so that the engine lets only one of
// the two commit.
core::Result<void> correct_heads(SqlSession& session, core::Instant at) {
  if (auto corrected = session.run("UPDATE ledger_head SET newest_at = $1", {encode(at)}); !corrected) return corrected;
  return session.chain().empty() ? core::Result<void>{} : session.run("UPDATE office SET only_row = only_row");
}
core::Result<void> meet_corrections(SqlSession& session) {
  return session.run("SELECT only_row FROM office");
}

}  // namespace

template <>
const RecordTable<LedgerEntry>& table_of() {
  static const RecordTable<LedgerEntry> table{
      "ledger",
      "ledger",
      {column<&LedgerEntry::sequence>("sequence").key(), column<&LedgerEntry::at>("at"),
       column<&LedgerEntry::operator_code>("operator_code"), column<&LedgerEntry::kind>("kind"),
       column<&LedgerEntry::subject>("subject"), column<&LedgerEntry::body>("body"),
       column<&LedgerEntry::previous>("previous"), column<&LedgerEntry::hash>("hash"),
       column<&LedgerEntry::chain>("chain"), column<&LedgerEntry::link>("link")},
      {},
      {{"ledger_by_subject", "subject, kind, sequence"}}};
  return table;
}

template <>
const RecordTable<LedgerHead>& table_of() {
  static const RecordTable<LedgerHead> table{
      "ledger_head",
      "head",
      {column<&LedgerHead::chain>("chain").key(), column<&LedgerHead::sequence>("sequence"),
       column<&LedgerHead::link>("link"), column<&LedgerHead::hash>("hash"),
       column<&LedgerHead::newest_at>("newest_at")}};
  return table;
}

std::int64_t number_in_chain(const LedgerEntry& entry) {
  return entry.chain.empty() && entry.link == 0 ? entry.sequence : entry.link;
}
std::int64_t number_in_chain(const LedgerHead& head) {
  return head.chain.empty() && head.link == 0 ? head.sequence : head.link;
}

core::Result<void> write_head(SqlSession& session, const LedgerHead& head) {
  const auto& table = table_of<LedgerHead>();
  return session.run(session.dialect().upsert_sql(table.shape()), table.row_of(head));
}

core::Result<void> begin_ledger(SqlSession& session) {
  return write_head(session, LedgerHead{});
}

core::Result<LedgerHead> read_head(SqlSession& session) {
  auto head = table_of<LedgerHead>().select_first(session, "WHERE chain = $1", {session.chain()});
  if (!head) return head.failure();
  if (*head) return std::move(**head);
  if (session.chain().empty()) return session.damaged("the ledger has no head");
  LedgerHead fresh;
  fresh.chain = session.chain();
  return fresh;
}

core::Result<std::vector<LedgerHead>> read_heads(SqlSession& session) {
  return table_of<LedgerHead>().select(session, "ORDER BY chain", {});
}

core::Result<std::optional<core::Instant>> newest_event_of(SqlSession& session) {
  const auto heads = read_heads(session);
  if (!heads) return heads.failure();
  std::optional<core::Instant> newest;
  for (const LedgerHead& head : *heads) newest = std::max(newest, head.newest_at);
  return newest;
}

// Numbers that a writer drew who then did not commit are left out.
core::Result<std::optional<std::string>> hash_of_entry(SqlSession& session, std::int64_t sequence) {
  const auto row = sequence == 1
                       ? session.first_row("SELECT hash FROM ledger ORDER BY sequence LIMIT 1")
                       : session.first_row("SELECT hash FROM ledger WHERE sequence = $1", {sequence});
  if (!row) return row.failure();
  const auto* hash = *row && !(*row)->empty() ? std::get_if<std::string>(&(**row)[0]) : nullptr;
  return hash ? std::optional{*hash} : std::nullopt;
}

core::Result<LedgerHead> append_entry(SqlSession& session, const core::Change& change, std::string body) {
  const auto head = read_head(session);
  if (!head) return head.failure();
  const bool begins = !head->chain.empty() && head->sequence == 0;
  if (const auto met = begins ? meet_corrections(session) : core::Result<void>{}; !met) return met.failure();
  const auto sequence = session.next_sequence(head->sequence);
  if (!sequence) return sequence.failure();
  const LedgerEntry entry = entry_after(*head, *sequence, change, std::move(body));
  const auto& table = table_of<LedgerEntry>();
  const auto added = session.run(table.shape().insert_sql(), table.row_of(entry));
  if (!added) return added.failure();
  if (corrects_clock(entry)) {
    if (const auto corrected = correct_heads(session, entry.at); !corrected) return corrected.failure();
  }
  LedgerHead after = head_after(*head, entry);
  if (const auto written = write_head(session, after); !written) return written.failure();
  return after;
}

core::Result<std::vector<LedgerEntry>> entries_about(SqlSession& session, std::string_view subject,
                                                     core::EventKind kind) {
  return table_of<LedgerEntry>().select(session, "WHERE subject = $1 AND kind = $2 ORDER BY sequence",
                                        {std::string{subject}, std::string{core::to_text(kind)}});
}

// About one subject it is asked by index; no text of a subject or body holds an id that is not a package's.
core::Result<std::vector<LedgerEntry>> entries_found(SqlSession& session, const port::LedgerSearch& search) {
  const SqlValue kind = search.kind ? SqlValue{std::string{core::to_text(*search.kind)}} : SqlValue{};
  const SqlValue package = search.package ? SqlValue{search.package->text()} : SqlValue{};
  constexpr std::string_view kFits =
      " (kind = $1 OR $1 IS NULL) AND (instr(subject, $2) > 0 OR instr(body, $2) > 0 OR $2 IS NULL)";
  if (!search.subject) {
    return table_of<LedgerEntry>().select(
        session, "WHERE" + std::string{kFits} + " ORDER BY sequence", {kind, package});
  }
  auto entries = table_of<LedgerEntry>().select(
      session, "WHERE subject = $3 AND" + std::string{kFits} + " ORDER BY kind, sequence",
      {kind, package, *search.subject});
  if (!entries) return entries;
  std::sort(entries->begin(), entries->end(),
            [](const LedgerEntry& a, const LedgerEntry& b) { return a.sequence < b.sequence; });
  return entries;
}

// Needs no sodium_init(): this hash draws no random bytes and has one implementation.
std::string sha256(std::string_view bytes) {
  std::array<unsigned char, crypto_hash_sha256_BYTES> digest{};
  crypto_hash_sha256(digest.data(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  std::string hex(2 * digest.size() + 1, '\0');
  sodium_bin2hex(hex.data(), hex.size(), digest.data(), digest.size());
  hex.pop_back();
  return hex;
}

std::string entry_hash(const LedgerEntry& entry) {
  const bool only_chain = entry.chain.empty() && entry.link == 0;
  std::string hashed = only_chain ? "loadlight ledger 1\n" : "loadlight ledger 2\n";
  if (!only_chain) {
    add_field(hashed, entry.chain);
    add_field(hashed, std::to_string(entry.link));
  }
  add_field(hashed, std::to_string(entry.sequence));
  add_field(hashed, std::to_string(core::to_milliseconds(entry.at)));
  add_field(hashed, entry.operator_code);
  add_field(hashed, entry.kind);
  add_field(hashed, entry.subject);
  add_field(hashed, entry.body);
  add_field(hashed, entry.previous);
  return sha256(hashed);
}

bool corrects_clock(const LedgerEntry& entry) {
  return entry.kind == core::to_text(core::EventKind::ClockCorrected);
}

LedgerHead head_after(const LedgerHead& before, const LedgerEntry& entry) {
  const core::Instant newest =
      corrects_clock(entry) || !before.newest_at ? entry.at : std::max(*before.newest_at, entry.at);
  return {entry.chain, entry.sequence, entry.link, entry.hash, newest};
}

}  // namespace loadlight::store
