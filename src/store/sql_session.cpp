#include "sql_session.h"

#include <sqlite3.h>

#include <utility>

#include "sql_failure.h"

namespace loadlight::store {
namespace {

constexpr std::int64_t kApplicationId = 0x4C4C5231;  // "LLR1": in the header of every record

// Ends a statement's use, however the use went.
class Use final {
 public:
  explicit Use(SqlStatement& statement) : statement_(statement) {}
  ~Use() { statement_.finish(); }
  Use(const Use&) = delete;
  Use& operator=(const Use&) = delete;

 private:
  SqlStatement& statement_;
};

}  // namespace

void SqlSession::Closer::operator()(sqlite3* database) const {
  sqlite3_close_v2(database);
}

core::Result<std::unique_ptr<SqlSession>> SqlSession::open(const std::string& path,
                                                           std::chrono::milliseconds patience) {
  sqlite3* opened = nullptr;
  const int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE;
  const int outcome = sqlite3_open_v2(path.c_str(), &opened, flags, nullptr);
  std::unique_ptr<SqlSession> session{new SqlSession{opened}};
  if (outcome != SQLITE_OK) return latest_failure(opened);
  if (auto configured = session->configure(patience); !configured) return configured.failure();
  return session;
}

core::Result<void> SqlSession::configure(std::chrono::milliseconds patience) {
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

core::Result<SqlStatement*> SqlSession::prepared(std::string_view sql) {
  if (const auto known = statements_.find(sql); known != statements_.end()) return &known->second;
  auto statement = SqlStatement::prepare(database_.get(), sql);
  if (!statement) return statement.failure();
  return &statements_.emplace(std::string{sql}, std::move(*statement)).first->second;
}

core::Result<std::vector<SqlRow>> SqlSession::rows(std::string_view sql, const SqlRow& parameters) {
  const auto found = prepared(sql);
  if (!found) return found.failure();
  SqlStatement& statement = **found;
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

core::Result<std::optional<SqlRow>> SqlSession::first_row(std::string_view sql, const SqlRow& parameters) {
  const auto found = prepared(sql);
  if (!found) return found.failure();
  SqlStatement& statement = **found;
  const Use use{statement};
  if (auto started = statement.start(parameters); !started) return started.failure();
  const auto more = statement.step();
  if (!more) return more.failure();
  return *more ? std::optional{statement.row()} : std::nullopt;
}

core::Result<void> SqlSession::run(std::string_view sql, const SqlRow& parameters) {
  const auto done = rows(sql, parameters);
  if (!done) return done.failure();
  return {};
}

core::Result<void> SqlSession::begin_reading() {
  return run("BEGIN");
}
core::Result<void> SqlSession::begin_writing() {
  return run("BEGIN IMMEDIATE");
}
core::Result<void> SqlSession::commit() {
  return run("COMMIT");
}

// Without a word when the engine rolled back by itself, as SQLite does when the disk is full.
void SqlSession::roll_back() {
  if (sqlite3_get_autocommit(database_.get()) == 0) (void)run("ROLLBACK").ok();
}

core::Failure SqlSession::damaged(std::string why) const {
  const char* path = sqlite3_db_filename(database_.get(), "main");
  return {core::FailureCode::RecordDamaged, {{"path", path ? path : ""}, {"why", std::move(why)}}, {}};
}

std::string_view SqlSession::type_name(ColumnType type) {
  switch (type) {
    case ColumnType::Integer:
      return "INTEGER";
    case ColumnType::Real:
      return "REAL";
    case ColumnType::Text:
      return "TEXT";
  }
  return "";
}

// STRICT: a column refuses values of another type.
std::string_view SqlSession::table_options() {
  return " STRICT";
}

std::vector<std::string> SqlSession::append_only_rules(std::string_view table) {
  const std::string name{table};
  const std::string refusal = " ON " + name + " BEGIN SELECT RAISE(ABORT, '" + name + " only grows'); END";
  return {"CREATE TRIGGER " + name + "_refuses_update BEFORE UPDATE" + refusal,
          "CREATE TRIGGER " + name + "_refuses_delete BEFORE DELETE" + refusal};
}

core::Result<std::int64_t> SqlSession::pragma(std::string_view sql) {
  const auto row = first_row(sql);
  if (!row) return row.failure();
  const auto* number = *row && !(*row)->empty() ? std::get_if<std::int64_t>(&(**row)[0]) : nullptr;
  return number ? *number : 0;
}

core::Result<int> SqlSession::schema_version() {
  const auto application = pragma("PRAGMA application_id");
  if (!application) return application.failure();
  if (*application != kApplicationId) return 0;
  const auto version = pragma("PRAGMA user_version");
  if (!version) return version.failure();
  return static_cast<int>(*version);
}

core::Result<void> SqlSession::mark_as_record(int version) {
  if (auto marked = run("PRAGMA application_id = " + std::to_string(kApplicationId)); !marked) return marked;
  return run("PRAGMA user_version = " + std::to_string(version));
}

core::Result<void> SqlSession::allow_reading_while_writing() {
  return run("PRAGMA journal_mode = WAL");
}

core::Result<void> SqlSession::copy_into(const std::string& path) {
  return run("VACUUM INTO $1", {path});
}

core::Result<std::vector<std::string>> SqlSession::structural_damage() {
  const auto found = rows("PRAGMA integrity_check");
  if (!found) return found.failure();
  std::vector<std::string> damage;
  for (const SqlRow& row : *found) {
    const auto* text = row.empty() ? nullptr : std::get_if<std::string>(&row[0]);
    if (text && *text != "ok") damage.push_back(*text);
  }
  return damage;
}

}  // namespace loadlight::store
