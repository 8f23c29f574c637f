#include "mirror.h"

#include <algorithm>
#include <map>
#include <utility>

#include "ledger.h"
#include "row_json.h"
#include "sessions.h"
#include "sql_transaction.h"

namespace loadlight::store {
namespace {

using core::Failure;
using core::FailureCode;
using core::LedgerEntry;
using core::Result;
using Heads = std::map<std::string, LedgerHead>;  // by chain

// Chains that have entries.
Result<Heads> heads_of(SqlSession& session) {
  const auto rows = read_heads(session);
  if (!rows) return rows.failure();
  Heads heads;
  for (const LedgerHead& head : *rows) {
    if (head.sequence > 0) heads.emplace(head.chain, head);
  }
  return heads;
}

std::int64_t sequence_of(const Heads& heads, const std::string& chain) {
  const auto found = heads.find(chain);
  return found == heads.end() ? 0 : found->second.sequence;
}

Result<std::int64_t> number_in(SqlSession& session, std::string_view sql, const SqlRow& parameters = {}) {
  const auto row = session.first_row(sql, parameters);
  if (!row) return row.failure();
  const auto* number = *row ? std::get_if<std::int64_t>(&(**row)[0]) : nullptr;
  return number ? *number : 0;
}

class Mirror final {
 public:
  Mirror(SqlSession& source, SqlSession& target, const MirrorOptions& options)
      : source_(source), target_(target), options_(options) {}

  Result<MirrorReply> run();

 private:
  Failure differs(std::int64_t sequence) const;
  Result<void> look_at_both();
  Result<void> must_be_known(const LedgerHead& head);
  Result<void> must_end_there();
  Result<std::int64_t> first_unknown();
  Result<std::int64_t> first_unknown_of(const LedgerHead& head);
  Result<void> walk(std::int64_t behind);
  Result<SqlTransaction> begin_batch();
  Result<void> write_batch(const std::vector<LedgerEntry>& entries);
  Result<void> write_entry(const LedgerEntry& entry, Heads& changed);
  Result<void> write_rows(const LedgerEntry& entry);
  Result<void> write_heads(const Heads& heads);
  Result<void> end_as_source();

  SqlSession& source_;
  SqlSession& target_;
  const MirrorOptions& options_;
  Heads there_;  // of the source, as it stands
  Heads here_;   // of the target, as they were written last
  MirrorReply reply_;
};

Result<MirrorReply> Mirror::run() {
  const auto reading = SqlTransaction::begin(source_, port::Access::Read);
  if (!reading) return reading.failure();
  if (auto looked = look_at_both(); !looked) return looked.failure();
  const auto first = first_unknown();
  if (!first) return first.failure();
  if (*first > 0) {
    if (auto walked = walk(*first - 1); !walked) return walked.failure();
  }
  if (auto ended = end_as_source(); !ended) return ended.failure();
  return reply_;
}

Failure Mirror::differs(std::int64_t sequence) const {
  Failure failure = target_.damaged("it holds what the other lacks or tells otherwise");
  failure.code = FailureCode::RecordsDiffer;
  failure.details.emplace_back("entry", std::to_string(sequence));
  return failure;
}

Result<void> Mirror::look_at_both() {
  auto there = heads_of(source_);
  if (!there) return there.failure();
  auto here = heads_of(target_);
  if (!here) return here.failure();
  there_ = std::move(*there);
  here_ = std::move(*here);
  const auto last = number_in(source_, "SELECT max(sequence) FROM ledger");
  if (!last) return last.failure();
  reply_.last = *last;
  for (const auto& [chain, head] : here_) {
    if (auto known = must_be_known(head); !known) return known;
  }
  return must_end_there();
}

// Each entry holds the hash of the one before in its chain: where the newest is the same all are.
Result<void> Mirror::must_be_known(const LedgerHead& head) {
  const auto row = source_.first_row("SELECT chain, hash FROM ledger WHERE sequence = $1", {head.sequence});
  if (!row) return row.failure();
  if (*row && **row == SqlRow{head.chain, head.hash}) return {};
  return differs(head.sequence);
}

// Nothing in the target stands behind what its heads say.
Result<void> Mirror::must_end_there() {
  std::int64_t newest = 0;
  for (const auto& [chain, head] : here_) newest = std::max(newest, head.sequence);
  const auto last = number_in(target_, "SELECT max(sequence) FROM ledger");
  if (!last) return last.failure();
  if (*last != newest) return differs(*last);
  return {};
}

// Of any chain: a lower number may have been committed after a higher one. 0: nothing is unknown.
Result<std::int64_t> Mirror::first_unknown() {
  if (here_.empty() && !there_.empty()) return 1;
  std::int64_t first = 0;
  for (const auto& [chain, head] : there_) {
    if (head.sequence <= sequence_of(here_, chain)) continue;
    const auto sequence = first_unknown_of(head);
    if (!sequence) return sequence;
    if (*sequence > 0 && (first == 0 || *sequence < first)) first = *sequence;
  }
  return first;
}

Result<std::int64_t> Mirror::first_unknown_of(const LedgerHead& head) {
  return number_in(source_, "SELECT sequence FROM ledger WHERE chain = $1 AND sequence > $2 ORDER BY sequence LIMIT 1",
                   {head.chain, sequence_of(here_, head.chain)});
}

Result<void> Mirror::walk(std::int64_t behind) {
  const auto& table = table_of<LedgerEntry>();
  const auto batch = static_cast<std::int64_t>(options_.batch);
  for (;;) {
    auto entries = table.select(source_, "WHERE sequence > $1 ORDER BY sequence LIMIT $2", {behind, batch});
    if (!entries) return entries.failure();
    if (entries->empty()) return {};
    behind = entries->back().sequence;
    const bool was_last = entries->size() < options_.batch;
    std::erase_if(*entries, [&](const LedgerEntry& entry) { return entry.sequence <= sequence_of(here_, entry.chain); });
    if (auto written = write_batch(*entries); !written) return written;
    if (options_.goes_on && !options_.goes_on({behind, reply_.last})) return Failure{FailureCode::Stopped, {}, {}};
    if (was_last) return {};
  }
}

// Nobody else may have written since.
Result<SqlTransaction> Mirror::begin_batch() {
  auto transaction = SqlTransaction::begin(target_, port::Access::Write);
  if (!transaction) return transaction;
  const auto heads = heads_of(target_);
  if (!heads) return heads.failure();
  if (*heads == here_) return transaction;
  Failure failure = target_.damaged("somebody else wrote into it");
  failure.code = FailureCode::ChangedMeanwhile;
  return failure;
}

Result<void> Mirror::write_batch(const std::vector<LedgerEntry>& entries) {
  if (entries.empty()) return {};
  auto transaction = begin_batch();
  if (!transaction) return transaction.failure();
  Heads changed = here_;
  for (const LedgerEntry& entry : entries) {
    if (auto written = write_entry(entry, changed); !written) return written;
  }
  if (auto written = write_heads(changed); !written) return written;
  if (auto committed = transaction->commit(); !committed) return committed;
  here_ = std::move(changed);
  reply_.added += static_cast<std::int64_t>(entries.size());
  return {};
}

Result<void> Mirror::write_entry(const LedgerEntry& entry, Heads& changed) {
  const auto& table = table_of<LedgerEntry>();
  if (auto added = target_.run(table.shape().insert_sql(), table.row_of(entry)); !added) return added;
  LedgerHead& head = changed[entry.chain];
  head = head_after(head, entry);
  if (corrects_clock(entry)) {
    for (auto& [chain, other] : changed) other.newest_at = entry.at;
  }
  return write_rows(entry);
}

Result<void> Mirror::write_rows(const LedgerEntry& entry) {
  const auto rows = rows_in_body(entry.body);
  if (!rows) return source_.damaged("ledger " + std::to_string(entry.sequence));
  for (const TableRow& row : *rows) {
    if (auto put = target_.run(target_.dialect().upsert_sql(*row.table), row.row); !put) return put;
  }
  return {};
}

Result<void> Mirror::write_heads(const Heads& heads) {
  for (const auto& [chain, head] : heads) {
    const auto before = here_.find(chain);
    if (before != here_.end() && before->second == head) continue;
    if (auto written = write_head(target_, head); !written) return written;
  }
  return {};
}

// As the source says, not as its entries do: an end that was cut off there is found missing here.
Result<void> Mirror::end_as_source() {
  auto transaction = begin_batch();
  if (!transaction) return transaction.failure();
  if (auto written = write_heads(there_); !written) return written;
  if (auto continued = target_.continue_ledger(); !continued) return continued;
  if (auto committed = transaction->commit(); !committed) return committed;
  here_ = there_;
  return {};
}

}  // namespace

Result<MirrorReply> mirror_sessions(SqlSession& source, SqlSession& target, const MirrorOptions& options) {
  return Mirror{source, target, options}.run();
}

Result<MirrorReply> mirror_record(const RecordPlace& source, const RecordPlace& target, const MirrorOptions& options) {
  const auto from = open_place(source);
  if (!from) return from.failure();
  const auto to = open_place(target);
  if (!to) return to.failure();
  return mirror_sessions(**from, **to, options);
}

Result<bool> same_ledger(const RecordPlace& one, const RecordPlace& other) {
  Heads heads[2];
  const RecordPlace* places[] = {&one, &other};
  for (std::size_t i = 0; i < 2; ++i) {
    const auto session = open_place(*places[i]);
    if (!session) return session.failure();
    auto found = heads_of(**session);
    if (!found) return found.failure();
    heads[i] = std::move(*found);
  }
  return heads[0] == heads[1];
}

}  // namespace loadlight::store
