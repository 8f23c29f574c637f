// A session with a record in a file of SQLite's.
#pragma once

#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "sql_session.h"
#include "sqlite_statement.h"

struct sqlite3;

namespace loadlight::store {

class SqliteSession final : public SqlSession {
 public:
  // Opens an existing, writable database file; what it holds is not looked at.
  static core::Result<std::unique_ptr<SqliteSession>> open(const std::string& path,
                                                           std::chrono::milliseconds patience);

  const SqlDialect& dialect() const override;
  core::Result<std::vector<SqlRow>> rows(std::string_view sql, const SqlRow& parameters = {}) override;
  core::Result<std::optional<SqlRow>> first_row(std::string_view sql, const SqlRow& parameters = {}) override;
  core::Result<void> begin_reading() override;
  core::Result<void> begin_writing() override;  // takes the write lock at once
  core::Result<void> commit() override;
  void roll_back() override;
  const std::string& chain() const override;
  core::Result<std::int64_t> next_sequence(std::int64_t last) override;
  bool is_sound() const override { return true; }
  core::Failure damaged(std::string why) const override;
  core::Result<int> schema_version() override;
  core::Result<void> mark_as_record(int version) override;
  core::Result<std::optional<std::vector<std::string>>> kept_statements() override;
  core::Result<std::vector<std::string>> structural_damage() override;

  // Lets readers go on while one writes. Outside a transaction.
  core::Result<void> allow_reading_while_writing();
  // A copy of the whole record into an empty file. Outside a transaction.
  core::Result<void> copy_into(const std::string& path);

 private:
  struct Closer {
    void operator()(sqlite3* database) const;
  };

  explicit SqliteSession(sqlite3* database) : database_(database) {}
  core::Result<void> configure(std::chrono::milliseconds patience);
  core::Result<SqliteStatement*> prepared(std::string_view sql);
  core::Result<std::int64_t> number(std::string_view sql);  // 0 where there is none
  core::Result<std::vector<std::string>> texts(std::string_view sql);  // of the first column

  std::unique_ptr<sqlite3, Closer> database_;
  std::map<std::string, SqliteStatement, std::less<>> statements_;  // dies before the database
};

}  // namespace loadlight::store
