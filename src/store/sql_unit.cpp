#include "sql_unit.h"

#include <utility>
#include <vector>

#include "office_row.h"
#include "row_json.h"
#include "whereabouts.h"

namespace loadlight::store {
namespace {

core::Failure mistake(std::string why) {
  return {core::FailureCode::Internal, {{"why", std::move(why)}}, {}};
}

TableRow table_row(const core::Record& record) {
  const auto row = [](const auto& one) {
    const auto& table = table_of<std::decay_t<decltype(one)>>();
    return TableRow{&table.shape(), table.row_of(one)};
  };
  return std::visit(row, record);
}

}  // namespace

core::Result<std::unique_ptr<port::Unit>> SqlUnit::begin(SessionPool::Lent session, port::Access access,
                                                          std::optional<WritingTurns::Turn> turn,
                                                          const Told& told) {
  std::optional<core::Instant> newest;
  if (access == port::Access::Write && !session->chain().empty()) {
    const auto found = newest_event_of(*session);
    if (!found) return found.failure();
    newest = *found;
  }
  auto transaction = SqlTransaction::begin(*session, access);
  if (!transaction) return transaction.failure();
  // A reading transaction fixes the state that it sees at its first look.
  if (const auto head = read_head(*session); !head) return head.failure();
  // In PostgreSQL a session is refused when it opens, and its ledger when it is closed.
  if (session->chain().empty()) {
    if (const auto here = must_be_here(*session); !here) return here.failure();
  }
  return std::unique_ptr<port::Unit>{
      new SqlUnit{std::move(session), std::move(*transaction), access, newest, std::move(turn), told}};
}

SqlUnit::SqlUnit(SessionPool::Lent session, SqlTransaction transaction, port::Access access,
                 std::optional<core::Instant> newest, std::optional<WritingTurns::Turn> turn, const Told& told)
    : turn_(std::move(turn)),
      session_(std::move(session)),
      transaction_(std::move(transaction)),
      access_(access),
      newest_before_(newest),
      told_(told),
      operators_(*session_),
      sterilizers_(*session_),
      contents_(*session_),
      kinds_(*session_),
      locations_(*session_),
      stocks_(*session_),
      packages_(*session_),
      loads_(*session_),
      evidence_(*session_),
      incidents_(*session_),
      print_runs_(*session_),
      programs_(*session_),
      consumables_(*session_),
      settings_(*session_),
      incident_work_(*session_),
      services_(*session_) {}

core::Result<core::Office> SqlUnit::office() const {
  return read_office(*session_);
}

core::Result<std::optional<core::Instant>> SqlUnit::newest_event() const {
  if (access_ == port::Access::Read || session_->chain().empty()) return newest_event_of(*session_);
  const auto head = read_head(*session_);
  if (!head) return head.failure();
  return added_.first == 0 ? newest_before_ : std::max(newest_before_, head->newest_at);
}

core::Result<std::vector<port::PastEvent>> SqlUnit::events_about(std::string_view subject,
                                                                core::EventKind kind) const {
  const auto entries = entries_about(*session_, subject, kind);
  if (!entries) return entries.failure();
  std::vector<port::PastEvent> events;
  for (const core::LedgerEntry& entry : *entries) {
    auto details = details_in_body(entry.body);
    if (!details) return session_->damaged("ledger " + std::to_string(entry.sequence));
    events.push_back({entry.at, entry.operator_code, std::move(*details)});
  }
  return events;
}

core::Result<std::vector<port::FoundEvent>> SqlUnit::find_events(const port::LedgerSearch& search) const {
  const auto entries = entries_found(*session_, search);
  if (!entries) return entries.failure();
  std::vector<port::FoundEvent> events;
  for (const core::LedgerEntry& entry : *entries) {
    const auto kind = core::parse<core::EventKind>(entry.kind);
    auto details = details_in_body(entry.body);
    if (!kind || !details) return session_->damaged("ledger " + std::to_string(entry.sequence));
    events.push_back(
        {entry.sequence, *kind, entry.at, entry.operator_code, entry.subject, std::move(*details)});
  }
  return events;
}

core::Result<std::optional<std::string>> SqlUnit::ledger_hash(std::int64_t sequence) const {
  return hash_of_entry(*session_, sequence);
}

// Counted, not believed of the head.
core::Result<std::int64_t> SqlUnit::last_entry() const {
  const auto last = highest(*session_, "SELECT max(sequence) FROM ledger");
  if (!last) return last.failure();
  return *last;
}

core::Result<void> SqlUnit::write(const core::Change& change) {
  if (access_ != port::Access::Write) return mistake("this unit only reads");
  if (transaction_.state() != SqlTransaction::State::Open) return mistake("this unit has ended");
  if (broken_) return *broken_;
  auto applied = apply(change);
  if (!applied) broken_ = applied.failure();
  return applied;
}

core::Result<void> SqlUnit::apply(const core::Change& change) {
  if (!is_text(change.operator_code) || !is_text(change.subject)) {
    return core::Failure{core::FailureCode::BadEncoding, {{"what", "subject"}}, {}};
  }
  std::vector<TableRow> rows;
  for (const core::Record& record : change.records) rows.push_back(table_row(record));
  auto body = body_text(change.details, rows);
  if (!body) return body.failure();
  for (const TableRow& row : rows) {
    if (auto written = session_->run(session_->dialect().upsert_sql(*row.table), row.row); !written) return written;
  }
  auto head = append_entry(*session_, change, std::move(*body));
  if (!head) return head.failure();
  if (added_.first == 0) added_.first = head->sequence;
  added_.last = head->sequence;
  added_.hash = std::move(head->hash);
  added_.kinds.push_back(change.kind);
  return {};
}

core::Result<void> SqlUnit::commit() {
  if (broken_) {
    transaction_.roll_back();
    return *broken_;
  }
  auto committed = transaction_.commit();
  turn_.reset();
  if (committed) tell();
  return committed;
}

void SqlUnit::tell() const {
  if (!told_ || added_.first == 0) return;
  port::Committed done = added_;
  done.hash_of = [this](std::int64_t sequence) { return hash_of_entry(*session_, sequence); };
  told_(done);
}

}  // namespace loadlight::store
