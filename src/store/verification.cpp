#include "verification.h"

#include <map>
#include <optional>
#include <string>
#include <utility>

#include "ledger.h"
#include "row_batches.h"
#include "row_json.h"
#include "schema.h"
#include "schema_check.h"

namespace loadlight::store {
namespace {

constexpr std::size_t kMostAlterations = 1000;  // more are summed up in one
constexpr std::int64_t kBetweenTellings = 250;  // entries or rows

using GoesOn = std::function<bool(const port::VerifyProgress&)>;

class Verification final {
 public:
  Verification(SqlSession& session, const GoesOn& goes_on) : session_(session), goes_on_(goes_on) {}

  core::Result<std::vector<port::Alteration>> run();

 private:
  core::Result<void> tell(std::int64_t steps);
  core::Result<void> turn_to_tables();
  core::Result<void> look_at_structure();
  core::Result<void> look_at_tables();
  core::Result<void> look_at_schema();
  core::Result<void> walk_ledger();
  core::Result<void> visit_entry(const core::LedgerEntry& entry);
  void judge_place(const core::LedgerEntry& entry);
  core::Result<void> replay(const core::LedgerEntry& entry);
  core::Result<void> compare_heads();
  void compare_head(const LedgerHead& kept);
  core::Result<void> compare_table(const TableShape& table);
  core::Result<void> compare_row(const TableShape& table, const SqlRow& row);
  core::Result<void> list_missing();

  core::Result<void> expect(const TableRow& row);
  void report(std::string where, std::string what);
  void report_missing_entries(const std::string& chain, std::int64_t first, std::int64_t last);

  SqlSession& session_;
  const GoesOn& goes_on_;
  port::VerifyProgress progress_;
  bool readable_ = true;  // every table has its columns
  std::map<std::string, LedgerHead> heads_;  // by chain, as the entries up to now make them
  std::vector<port::Alteration> alterations_;
};

std::string digest_of(const TableShape& table, const SqlRow& row) {
  const auto text = row_text(table, row);
  return text ? sha256(*text) : std::string{};  // nothing that the ledger holds has an empty digest
}

// "ledger 17", or "ledger WEST-17" for the seventeenth of that chain.
std::string ledger_name(const std::string& chain, std::int64_t number) {
  return "ledger " + chain + (chain.empty() ? "" : "-") + std::to_string(number);
}
std::string head_name(const std::string& chain) {
  return chain.empty() ? "head" : "head " + chain;
}
std::string ledger_name(const core::LedgerEntry& entry) {
  return ledger_name(entry.chain, number_in_chain(entry));
}

core::Result<std::vector<port::Alteration>> Verification::run() {
  if (auto looked = look_at_structure(); !looked) return looked.failure();
  if (auto looked = look_at_tables(); !looked) return looked.failure();
  if (!readable_) return std::move(alterations_);
  if (auto walked = walk_ledger(); !walked) return walked.failure();
  if (auto compared = compare_heads(); !compared) return compared.failure();
  if (auto turned = turn_to_tables(); !turned) return turned.failure();
  for (const TableShape* table : record_tables()) {
    if (auto compared = compare_table(*table); !compared) return compared.failure();
  }
  if (auto listed = list_missing(); !listed) return listed.failure();
  if (auto looked = look_at_schema(); !looked) return looked.failure();
  return std::move(alterations_);
}

// After so many more entries or rows.
core::Result<void> Verification::tell(std::int64_t steps) {
  progress_.done += steps;
  if (!goes_on_ || progress_.done % kBetweenTellings != 0) return {};
  if (goes_on_(progress_)) return {};
  return core::Failure{core::FailureCode::Stopped, {}, {}};
}

core::Result<void> Verification::turn_to_tables() {
  const auto rows = highest(session_, "SELECT count(*) FROM expected");
  if (!rows) return rows.failure();
  progress_ = {true, 0, *rows};
  return tell(0);
}

core::Result<void> Verification::look_at_structure() {
  const auto damage = session_.structural_damage();
  if (!damage) return damage.failure();
  if (!damage->empty()) report("record.db", "file-damaged");
  return {};
}

// A table that is gone, or has lost a column, cannot be asked for its rows.
core::Result<void> Verification::look_at_tables() {
  std::vector<const TableShape*> tables = record_tables();
  tables.push_back(&table_of<core::LedgerEntry>().shape());
  for (const TableShape* table : tables) {
    const auto row = session_.first_row(table->first_batch_sql());
    if (row) continue;
    if (row.failure().code != core::FailureCode::Internal) return row.failure();
    report("table " + table->name(), "table-altered");
    readable_ = false;
  }
  return {};
}

core::Result<void> Verification::look_at_schema() {
  const auto found = schema_alterations(session_);
  if (!found) return found.failure();
  for (const port::Alteration& one : *found) report(one.where, one.what);
  return {};
}

core::Result<void> Verification::walk_ledger() {
  const auto entries = highest(session_, "SELECT max(sequence) FROM ledger");
  if (!entries) return entries.failure();
  progress_.all = *entries;
  if (auto told = tell(0); !told) return told;
  std::optional<core::Failure> failure;
  const auto walked = each_record<core::LedgerEntry>(session_, [&](const core::LedgerEntry& entry) {
    if (auto visited = visit_entry(entry); !visited) failure = visited.failure();
    return !failure;
  });
  return failure ? *failure : walked;
}

core::Result<void> Verification::visit_entry(const core::LedgerEntry& entry) {
  judge_place(entry);
  if (entry.hash != entry_hash(entry)) report(ledger_name(entry), "hash-wrong");
  LedgerHead& head = heads_[entry.chain];
  head = head_after(head, entry);
  if (corrects_clock(entry)) {
    for (auto& [chain, other] : heads_) other.newest_at = entry.at;
  }
  if (auto told = tell(1); !told) return told;
  return replay(entry);
}

void Verification::judge_place(const core::LedgerEntry& entry) {
  const LedgerHead& head = heads_[entry.chain];
  const std::int64_t expected = number_in_chain(head) + 1, number = number_in_chain(entry);
  if (number > expected) {
    report_missing_entries(entry.chain, expected, number - 1);
  } else if (number < expected) {
    report(ledger_name(entry), "row-extra");
  } else if (entry.previous != head.hash) {
    report(ledger_name(entry), "previous-wrong");
  }
}

core::Result<void> Verification::replay(const core::LedgerEntry& entry) {
  const auto rows = rows_in_body(entry.body);
  if (!rows) report(ledger_name(entry), "body-unreadable");
  for (const TableRow& row : rows.value_or(std::vector<TableRow>{})) {
    if (auto expected = expect(row); !expected) return expected;
  }
  return {};
}

core::Result<void> Verification::expect(const TableRow& row) {
  return session_.run(
      "INSERT INTO expected (row_name, digest) VALUES ($1, $2)"
      " ON CONFLICT (row_name) DO UPDATE SET digest = excluded.digest",
      {row.table->row_name(row.row), digest_of(*row.table, row.row)});
}

core::Result<void> Verification::compare_heads() {
  const auto kept = read_heads(session_);
  if (!kept || (kept->empty() && session_.chain().empty())) {
    report("head", "head-wrong");
    return {};
  }
  for (const LedgerHead& head : *kept) compare_head(head);
  for (const auto& [chain, head] : heads_) report(head_name(chain), "row-missing");
  return {};
}

// What is left in heads_ afterwards has no row.
void Verification::compare_head(const LedgerHead& kept) {
  LedgerHead walked;
  walked.chain = kept.chain;
  if (auto found = heads_.extract(kept.chain)) walked = std::move(found.mapped());
  if (number_in_chain(kept) > number_in_chain(walked)) {
    report_missing_entries(kept.chain, number_in_chain(walked) + 1, number_in_chain(kept));
  } else if (kept != walked) {
    report(head_name(kept.chain), "head-wrong");
  }
}

core::Result<void> Verification::compare_table(const TableShape& table) {
  return each_row(session_, table, [&](const SqlRow& row) -> core::Result<bool> {
    if (auto compared = compare_row(table, row); !compared) return compared.failure();
    if (auto told = tell(1); !told) return told.failure();
    return true;
  });
}

core::Result<void> Verification::compare_row(const TableShape& table, const SqlRow& row) {
  const std::string name = table.row_name(row);
  const auto expected = session_.first_row("SELECT digest FROM expected WHERE row_name = $1", {name});
  if (!expected) return expected.failure();
  if (!*expected) {
    report(name, "row-extra");
  } else if ((**expected)[0] != SqlValue{digest_of(table, row)}) {
    report(name, "row-altered");
  }
  return session_.run("DELETE FROM expected WHERE row_name = $1", {name});
}

// What is left of the expected rows was found in no table.
core::Result<void> Verification::list_missing() {
  const auto names = session_.rows("SELECT row_name FROM expected ORDER BY row_name LIMIT $1",
                                   {static_cast<std::int64_t>(kMostAlterations + 1)});
  if (!names) return names.failure();
  for (const SqlRow& row : *names) {
    const auto* name = std::get_if<std::string>(&row[0]);
    report(name ? *name : std::string{}, "row-missing");
  }
  return {};
}

void Verification::report(std::string where, std::string what) {
  if (alterations_.size() < kMostAlterations) {
    alterations_.push_back({std::move(where), std::move(what)});
  } else if (alterations_.size() == kMostAlterations) {
    alterations_.push_back({"record.db", "more-altered"});
  }
}

void Verification::report_missing_entries(const std::string& chain, std::int64_t first, std::int64_t last) {
  report(ledger_name(chain, first) + (first == last ? "" : "-" + std::to_string(last)), "entry-missing");
}

}  // namespace

core::Result<void> lay_out_verification(SqlSession& session) {
  return session.run("CREATE TEMP TABLE expected (row_name TEXT PRIMARY KEY, digest TEXT NOT NULL)");
}

core::Result<std::vector<port::Alteration>> verify_record(SqlSession& session, const GoesOn& goes_on) {
  auto alterations = Verification{session, goes_on}.run();
  // A file too broken to be read to its end is an answer to the question, too.
  if (!alterations && alterations.failure().code == core::FailureCode::RecordDamaged) {
    return std::vector<port::Alteration>{{"record.db", "file-damaged"}};
  }
  return alterations;
}

}  // namespace loadlight::store
