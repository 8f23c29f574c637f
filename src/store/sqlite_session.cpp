#include "sqlite_session.h"

#include <sqlite3.h>

#include <algorithm>
#include <utility>

#include "sqlite_dialect.h"
#include "sqlite_failure.h"

namespace loadlight::store {
namespace {

constexpr std::int64_t kApplicationId = 0x4C4C5231;  // "LLR1": in the header of every record

// Ends a statement's use, however the use went.
class Use final {
 public:
  explicit Use(SqliteStatement& statement) : statement_(statement) {}
  ~Use() { statement_.finish(); }
  Use(const Use&) = delete;
  Use& operator=(const Use&) = delete;

 private:
  SqliteStatement& statement_;
};

}  // namespace

void SqliteSession::Closer::operator()(sqlite3* database) const {
  sqlite3_close_v2(database);
}

core::Result<std::unique_ptr<SqliteSession>> SqliteSession::open(const std::string& path,
                                                                 std::chrono::milliseconds patience) {
  sqlite3* opened = nullptr;
  const int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE;
  const int outcome = sqlite3_open_v2(path.c_str(), &opened, flags, nullptr);
  std::unique_ptr<SqliteSession> session{new SqliteSession{opened}};
  if (outcome != SQLITE_OK) return latest_failure(opened);
  if (auto configured = session->configure(patience); !configured) return configured.failure();
  return session;
}

core::Result<void> SqliteSession::configure(std::chrono::milliseconds patience) {
  sqlite3* database = database_.get();
  if (sqlite3_db_readonly(database, "main") == 1) {
    const char* path = sqlite3_db_filename(database, "main");
    return core::Failure{core::FailureCode::OfficeReadOnly, {{"path", path}, {"why", "read-only"}}, {}};
  }
  sqlite3_busy_timeout(database, static_cast<int>(patience.count()));
  sqlite3_db_config(database, SQLITE_DBCONFIG_ENABLE_FKEY, 1, nullptr);
  sqlite3_db_config(database, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
  sqlite3_db_config(database, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  return run("PRAGMA synchronous = FULL");
}

core::Result<SqliteStatement*> SqliteSession::prepared(std::string_view sql) {
  if (const auto known = statements_.find(sql); known != statements_.end()) return &known->second;
  auto statement = SqliteStatement::prepare(database_.get(), sql);
  if (!statement) return statement.failure();
  return &statements_.emplace(std::string{sql}, std::move(*statement)).first->second;
}

core::Result<std::vector<SqlRow>> SqliteSession::rows(std::string_view sql, const SqlRow& parameters) {
  const auto found = prepared(sql);
  if (!found) return found.failure();
  SqliteStatement& statement = **found;
  const Use use{statement};
  if (auto started = statement.start(parameters); !started) return started.failure();
  std::vector<SqlRow> rows;
  for (;;) {
    const auto more = statement.step();
    if (!more) return more.failure();
    if (!*more) return rows;
    rows.push_back(statement.row());
  }
}

core::Result<std::optional<SqlRow>> SqliteSession::first_row(std::string_view sql, const SqlRow& parameters) {
  const auto found = prepared(sql);
  if (!found) return found.failure();
  SqliteStatement& statement = **found;
  const Use use{statement};
  if (auto started = statement.start(parameters); !started) return started.failure();
  const auto more = statement.step();
  if (!more) return more.failure();
  return *more ? std::optional{statement.row()} : std::nullopt;
}

const SqlDialect& SqliteSession::dialect() const {
  return sqlite_dialect();
}

core::Result<void> SqliteSession::begin_reading() {
  return run("BEGIN");
}
core::Result<void> SqliteSession::begin_writing() {
  return run("BEGIN IMMEDIATE");
}
core::Result<void> SqliteSession::commit() {
  return run("COMMIT");
}

// Without a word when the engine rolled back by itself, as SQLite does when the disk is full.
void SqliteSession::roll_back() {
  if (sqlite3_get_autocommit(database_.get()) == 0) (void)run("ROLLBACK").ok();
}

const std::string& SqliteSession::chain() const {
  static const std::string only;
  return only;
}

// Behind every chain's: a record that was in a database of many stations has theirs as well.
core::Result<std::int64_t> SqliteSession::next_sequence(std::int64_t last) {
  const auto newest = number("SELECT max(sequence) FROM ledger_head");
  if (!newest) return newest.failure();
  return std::max(last, *newest) + 1;
}

core::Failure SqliteSession::damaged(std::string why) const {
  const char* path = sqlite3_db_filename(database_.get(), "main");
  return {core::FailureCode::RecordDamaged, {{"path", path ? path : ""}, {"why", std::move(why)}}, {}};
}

core::Result<std::int64_t> SqliteSession::number(std::string_view sql) {
  const auto row = first_row(sql);
  if (!row) return row.failure();
  const auto* number = *row && !(*row)->empty() ? std::get_if<std::int64_t>(&(**row)[0]) : nullptr;
  return number ? *number : 0;
}

core::Result<int> SqliteSession::schema_version() {
  const auto application = number("PRAGMA application_id");
  if (!application) return application.failure();
  if (*application != kApplicationId) return 0;
  const auto version = number("PRAGMA user_version");
  if (!version) return version.failure();
  return static_cast<int>(*version);
}

core::Result<void> SqliteSession::mark_as_record(int version) {
  if (auto marked = run("PRAGMA application_id = " + std::to_string(kApplicationId)); !marked) return marked;
  return run("PRAGMA user_version = " + std::to_string(version));
}

core::Result<void> SqliteSession::allow_reading_while_writing() {
  return run("PRAGMA journal_mode = WAL");
}

core::Result<void> SqliteSession::copy_into(const std::string& path) {
  return run("VACUUM INTO $1", {path});
}

core::Result<std::vector<std::string>> SqliteSession::texts(std::string_view sql) {
  const auto found = rows(sql);
  if (!found) return found.failure();
  std::vector<std::string> texts;
  for (const SqlRow& row : *found) {
    const auto* text = row.empty() ? nullptr : std::get_if<std::string>(&row[0]);
    if (text) texts.push_back(*text);
  }
  return texts;
}

// Without what a person's ANALYZE leaves. One that is kept under another name than it says is no statement of ours.
core::Result<std::optional<std::vector<std::string>>> SqliteSession::kept_statements() {
  auto kept = texts(
      "SELECT CASE WHEN instr(sql, 'CREATE ' || upper(type) || ' ' || name || ' ') = 1"
      " AND (tbl_name = name OR instr(sql, ' ON ' || tbl_name || ' ') > 0) THEN sql ELSE name || ' ' || sql END"
      " FROM main.sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY name");
  if (!kept) return kept.failure();
  return std::optional{std::move(*kept)};
}

core::Result<std::vector<std::string>> SqliteSession::structural_damage() {
  auto damage = texts("PRAGMA integrity_check");
  if (damage) std::erase(*damage, "ok");
  return damage;
}

}  // namespace loadlight::store
