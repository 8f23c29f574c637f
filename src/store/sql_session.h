// A session with the database that keeps the record: the one class that knows which engine it is.
//
// SQL is written once for every engine: parameters are $1, $2, …, the words are those that SQLite and
// PostgreSQL share, and where the two differ the difference is a named function here.
#pragma once

#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/result.h"
#include "sql_statement.h"
#include "sql_value.h"

struct sqlite3;

namespace loadlight::store {

// One thread at a time.
class SqlSession final {
 public:
  // Opens an existing, writable database file; what it holds is not looked at.
  static core::Result<std::unique_ptr<SqlSession>> open(const std::string& path,
                                                        std::chrono::milliseconds patience);

  // Statements are prepared once for each text, so texts are constants or come from a table's shape, and
  // never hold data. `run` is for those that yield no rows.
  core::Result<void> run(std::string_view sql, const SqlRow& parameters = {});
  core::Result<std::vector<SqlRow>> rows(std::string_view sql, const SqlRow& parameters = {});
  core::Result<std::optional<SqlRow>> first_row(std::string_view sql, const SqlRow& parameters = {});

  // Transactions are SqlTransaction's to begin and end.
  core::Result<void> begin_reading();
  core::Result<void> begin_writing();  // takes the write lock at once, waiting for it
  core::Result<void> commit();
  void roll_back();

  // A failure about what the record holds.
  core::Failure damaged(std::string why) const;

  // Where engines differ.
  static std::string_view type_name(ColumnType type);
  static std::string_view table_options();
  static std::vector<std::string> append_only_rules(std::string_view table);
  // What marks a database as a record of ours, and its schema's version: 0 where there is no such mark.
  core::Result<int> schema_version();
  core::Result<void> mark_as_record(int version);
  // Lets readers go on while one writes. Outside a transaction.
  core::Result<void> allow_reading_while_writing();
  // A copy of the whole record into an empty file. Outside a transaction.
  core::Result<void> copy_into(const std::string& path);
  // What the engine itself finds wrong with its file or its indexes; empty when nothing.
  core::Result<std::vector<std::string>> structural_damage();

 private:
  struct Closer {
    void operator()(sqlite3* database) const;
  };

  explicit SqlSession(sqlite3* database) : database_(database) {}
  core::Result<void> configure(std::chrono::milliseconds patience);
  core::Result<SqlStatement*> prepared(std::string_view sql);
  core::Result<std::int64_t> pragma(std::string_view sql);

  std::unique_ptr<sqlite3, Closer> database_;
  std::map<std::string, SqlStatement, std::less<>> statements_;  // dies before the database
};

}  // namespace loadlight::store
