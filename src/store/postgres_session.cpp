#include "postgres_session.h"

#include <libpq-fe.h>

#include <algorithm>
#include <charconv>
#include <cstring>
#include <optional>
#include <utility>

#include "news_channel.h"
#include "postgres_dialect.h"
#include "postgres_failure.h"

namespace loadlight::store {
namespace {

// Types of columns, as the server numbers them (pg_type.dat).
constexpr Oid kBool = 16;
constexpr Oid kInt8 = 20;
constexpr Oid kInt4 = 23;
constexpr Oid kFloat8 = 701;
constexpr Oid kNumeric = 1700;

constexpr std::chrono::milliseconds kLeastForCommit{5000};
// A station that was cut off leaves a session behind that holds its chain's turn: its server is to give it up soon.
constexpr std::string_view kGhosts =
    " SET tcp_keepalives_idle = 5; SET tcp_keepalives_interval = 2; SET tcp_keepalives_count = 3;"
    " SET tcp_user_timeout = 10000; SET idle_in_transaction_session_timeout = 60000;";

template <class Number>
std::string number_text(Number number) {
  char text[40];
  return {text, std::to_chars(text, text + sizeof text, number).ptr};
}

// As text; nothing for NULL.
std::optional<std::string> parameter_text(const SqlValue& value) {
  if (const auto* integer = std::get_if<std::int64_t>(&value)) return number_text(*integer);
  if (const auto* real = std::get_if<double>(&value)) return number_text(*real);
  if (const auto* text = std::get_if<std::string>(&value)) return *text;
  return std::nullopt;
}

template <class Number>
SqlValue parsed(std::string_view text) {
  Number number{};
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

SqlValue value_of(const PGresult* result, int row, int column) {
  if (PQgetisnull(result, row, column) == 1) return std::monostate{};
  const std::string_view text{PQgetvalue(result, row, column),
                              static_cast<std::size_t>(PQgetlength(result, row, column))};
  switch (PQftype(result, column)) {
    case kBool:
      return std::int64_t{text == "t" ? 1 : 0};
    case kInt8:
    case kInt4:
    case kNumeric:  // a sum of whole numbers
      return parsed<std::int64_t>(text);
    case kFloat8:
      return parsed<double>(text);
    default:
      return std::string{text};
  }
}

SqlRow row_of(const PGresult* result, int row) {
  SqlRow values;
  for (int column = 0; column < PQnfields(result); ++column) values.push_back(value_of(result, row, column));
  return values;
}

// What is sent again and again; the rest is said once.
bool is_kept(std::string_view sql) {
  for (const std::string_view word : {"SELECT", "INSERT", "UPDATE", "DELETE"}) {
    if (sql.substr(0, word.size()) == word) return true;
  }
  return false;
}

std::string place_of(PGconn* connection) {
  const auto text = [](const char* part) { return std::string{part ? part : ""}; };
  return text(PQhost(connection)) + "/" + text(PQdb(connection));
}

}  // namespace

core::Result<std::unique_ptr<PostgresSession>> PostgresSession::open(const std::string& address,
                                                                     std::chrono::milliseconds patience,
                                                                     std::string chain) {
  Line line = open_line(address);
  const std::string place = place_of(line.get());
  if (PQstatus(line.get()) != CONNECTION_OK) return postgres_failure("", place, PQerrorMessage(line.get()));
  std::unique_ptr<PostgresSession> session{new PostgresSession{address, std::move(line), place, std::move(chain), patience}};
  if (auto configured = session->configure(); !configured) return configured.failure();
  return session;
}

// Every query of ours is a look-up by an index. A walk over a small table, which the server would rather do, reads
// the whole of it, and so meets whatever others write there.
core::Result<void> PostgresSession::configure() {
  PQsetNoticeProcessor(line_.get(), [](void*, const char*) {}, nullptr);
  const std::string milliseconds = std::to_string(patience_.count());
  const auto done = at_once(("SET search_path = loadlight; SET client_encoding = 'UTF8';"
                             "SET extra_float_digits = 1; SET enable_seqscan = off;" + std::string{kGhosts} +
                             " SET lock_timeout = " + milliseconds).c_str());
  if (!done) return done.failure();
  return {};
}

const SqlDialect& PostgresSession::dialect() const {
  return postgres_dialect();
}

core::Result<Answer> PostgresSession::asked(Answer answer) {
  const ExecStatusType status = answer ? PQresultStatus(answer.get()) : PGRES_FATAL_ERROR;
  if (status == PGRES_TUPLES_OK || status == PGRES_COMMAND_OK) return answer;
  const char* state = PQresultErrorField(answer.get(), PG_DIAG_SQLSTATE);
  const char* message = PQresultErrorField(answer.get(), PG_DIAG_MESSAGE_PRIMARY);
  // What broke a transaction is told again for whatever is asked in it afterwards.
  if (broken_ && state && std::strcmp(state, "25P02") == 0) return *broken_;
  state_ = state ? state : "";
  if (dead_) message = "no answer";
  broken_ = postgres_failure(state_, place_, message ? message : PQerrorMessage(line_.get()));
  if (broken_->code == core::FailureCode::ChangedMeanwhile) met_change_ = writing_;
  return *broken_;
}

core::Result<Answer> PostgresSession::answered(int sent, std::optional<std::chrono::milliseconds> at_most) {
  if (sent == 0) return asked({});
  auto answer = wait_for_answer(address_, line_.get(), at_most);
  if (!answer) dead_ = true;
  return asked(std::move(answer));
}

core::Result<Answer> PostgresSession::at_once(const char* sql, std::optional<std::chrono::milliseconds> at_most) {
  return answered(dead_ ? 0 : PQsendQuery(line_.get(), sql), at_most);
}

core::Result<const char*> PostgresSession::prepared(std::string_view sql) {
  if (const auto known = names_.find(sql); known != names_.end()) return known->second.c_str();
  const std::string text{sql};
  const std::string name = "s" + std::to_string(names_.size() + 1);
  const auto made = answered(dead_ ? 0 : PQsendPrepare(line_.get(), name.c_str(), text.c_str(), 0, nullptr));
  if (!made) return made.failure();
  return names_.emplace(text, name).first->second.c_str();
}

core::Result<std::vector<SqlRow>> PostgresSession::rows(std::string_view sql, const SqlRow& parameters) {
  std::vector<std::optional<std::string>> texts;
  for (const SqlValue& value : parameters) texts.push_back(parameter_text(value));
  std::vector<const char*> values;
  for (const auto& text : texts) {
    if (text && text->find('\0') != std::string::npos) return postgres_failure("22021", place_, "a zero in a text");
    values.push_back(text ? text->c_str() : nullptr);
  }
  core::Result<Answer> answer{Answer{}};
  if (is_kept(sql)) {
    const auto name = prepared(sql);
    if (!name) return name.failure();
    if (dead_) return asked({}).failure();
    answer = answered(PQsendQueryPrepared(line_.get(), *name, static_cast<int>(values.size()), values.data(),
                                          nullptr, nullptr, 0));
  } else {
    answer = at_once(std::string{sql}.c_str());
  }
  if (!answer) return answer.failure();
  std::vector<SqlRow> found;
  for (int row = 0; row < PQntuples(answer->get()); ++row) found.push_back(row_of(answer->get(), row));
  return found;
}

core::Result<std::optional<SqlRow>> PostgresSession::first_row(std::string_view sql, const SqlRow& parameters) {
  auto found = rows(sql, parameters);
  if (!found) return found.failure();
  return found->empty() ? std::nullopt : std::optional{std::move(found->front())};
}

core::Result<void> PostgresSession::begin_reading() {
  broken_.reset();
  writing_ = false;
  return run("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY");
}

core::Result<void> PostgresSession::choose_office(const std::string& name) {
  return run("SELECT set_config('loadlight.office', $1, false)", {name});
}

core::Result<void> PostgresSession::find_own_office() {
  const auto row = first_row("SELECT own_office()");
  if (!row) return row.failure();
  const auto* number = *row ? std::get_if<std::int64_t>(&(**row)[0]) : nullptr;
  if (!number) {
    return core::Failure{core::FailureCode::OfficeAbsent,
                         {{"path", place_}, {"why", "this role belongs to no office"}},
                         {}};
  }
  next_sequence_sql_ = "SELECT nextval('ledger_sequence_" + std::to_string(*number) + "')";
  tell_others_sql_ = "SELECT pg_notify('" + news_channel(std::to_string(*number)) + "', '')";
  turn_ = {*number, chain_};
  turn_at_repeating_ = {*number, "/repeating"};  // no chain has such a name
  return {};
}

// A station's own writers go one after the other, before the server looks at anything for them: their chain is
// one. Those of other stations do not wait for them.
core::Result<void> PostgresSession::take_turn() {
  const auto taken = run("SELECT pg_advisory_lock(CAST($1 AS INTEGER), hashtext($2))", turn_);
  has_turn_ = taken.ok();
  return taken;
}

// Who met another station's change is about to do the same again: those go one after the other, or they would only
// meet each other.
core::Result<void> PostgresSession::take_turn_at_repeating() {
  const auto taken = run("SELECT pg_advisory_lock(CAST($1 AS INTEGER), hashtext($2))", turn_at_repeating_);
  has_turn_at_repeating_ = taken.ok();
  return taken;
}

void PostgresSession::end_turn() {
  if (has_turn_at_repeating_ && is_open()) {
    (void)run("SELECT pg_advisory_unlock(CAST($1 AS INTEGER), hashtext($2))", turn_at_repeating_).ok();
  }
  has_turn_at_repeating_ = false;
  if (!has_turn_) return;
  if (is_open()) (void)run("SELECT pg_advisory_unlock(CAST($1 AS INTEGER), hashtext($2))", turn_).ok();
  has_turn_ = false;
}

// Serializable: whatever a decision was read from is as it was when it is written, or it is not written. Whoever
// sets up a group belongs to no office and decides nothing from its records; the server compares such a writer
// with nobody.
core::Result<void> PostgresSession::begin_writing() {
  broken_.reset();
  writing_ = true;
  if (turn_.empty()) return run("BEGIN");
  if (auto taken = take_turn(); !taken) return taken;
  if (met_change_) {
    if (auto taken = take_turn_at_repeating(); !taken) {
      end_turn();
      return taken;
    }
  }
  met_change_ = false;
  auto begun = run("BEGIN ISOLATION LEVEL SERIALIZABLE");
  if (!begun) end_turn();
  return begun;
}

core::Result<std::int64_t> PostgresSession::next_sequence(std::int64_t) {
  const auto row = first_row(next_sequence_sql_);
  if (!row) return row.failure();
  const auto* number = *row ? std::get_if<std::int64_t>(&(**row)[0]) : nullptr;
  return number ? core::Result<std::int64_t>{*number} : damaged("the ledger's sequence yields nothing");
}

bool PostgresSession::is_sound() const {
  return is_open() && PQtransactionStatus(line_.get()) == PQTRANS_IDLE;
}

bool PostgresSession::is_open() const {
  return !dead_ && PQstatus(line_.get()) == CONNECTION_OK;
}

// A transaction that failed before is rolled back by COMMIT, without an error.
core::Result<void> PostgresSession::commit() {
  const auto done = at_once("COMMIT", std::max<std::chrono::milliseconds>(patience_, kLeastForCommit));
  if (!done) {
    core::Failure failure = told_of_commit(done.failure());
    end_turn();
    return failure;
  }
  const bool committed = std::strcmp(PQcmdStatus(done->get()), "COMMIT") == 0;
  if (committed && writing_ && !tell_others_sql_.empty()) tell_others();
  end_turn();
  if (committed) return {};
  if (broken_) return *broken_;
  return core::Failure{core::FailureCode::Internal, {{"why", "the transaction had failed"}}, {}};
}

// After the commit and not within it: the server lets those that tell something commit only one after the other, over all
// offices. What is not told the others find when they look by themselves.
void PostgresSession::tell_others() {
  if (is_open()) (void)run(tell_others_sql_).ok();
}

// Once COMMIT was sent only the server's answer tells what became of it. It may have none because the line broke, because
// it goes down, or because it waits for another server that is to hold the same.
core::Failure PostgresSession::told_of_commit(core::Failure failure) const {
  const bool cut_off = !is_open() || state_.empty() || state_.substr(0, 2) == "08" || state_.substr(0, 3) == "57P" ||
                       state_ == "40003";
  if (writing_ && cut_off) failure.code = core::FailureCode::CommitUnknown;
  return failure;
}

void PostgresSession::roll_back() {
  if (is_open() && PQtransactionStatus(line_.get()) != PQTRANS_IDLE) (void)at_once("ROLLBACK").ok();
  end_turn();
}

core::Failure PostgresSession::damaged(std::string why) const {
  return {core::FailureCode::RecordDamaged, {{"path", place_}, {"why", std::move(why)}}, {}};
}

core::Result<int> PostgresSession::schema_version() {
  const auto there = first_row("SELECT to_regclass('loadlight.schema_mark') IS NOT NULL");
  if (!there) return there.failure();
  if (!*there || (**there)[0] != SqlValue{std::int64_t{1}}) return 0;
  const auto row = first_row("SELECT version FROM schema_mark");
  if (!row) return row.failure();
  const auto* version = *row ? std::get_if<std::int64_t>(&(**row)[0]) : nullptr;
  return version ? static_cast<int>(*version) : 0;
}

core::Result<void> PostgresSession::mark_as_record(int version) {
  return run(
      "INSERT INTO schema_mark (only_row, version) VALUES (1, $1)"
      " ON CONFLICT (only_row) DO UPDATE SET version = excluded.version",
      {std::int64_t{version}});
}

// The server checks its own pages where it was made with checksums, and reports them as it meets them.
core::Result<std::vector<std::string>> PostgresSession::structural_damage() {
  return std::vector<std::string>{};
}

}  // namespace loadlight::store
