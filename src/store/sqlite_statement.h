// One prepared statement, kept for use again and again.
#pragma once

#include <memory>
#include <string_view>
#include <vector>

#include "loadlight/core/result.h"
#include "sql_value.h"

struct sqlite3;
struct sqlite3_stmt;

namespace loadlight::store {

// Parameters are written $1, $2, … and may stand in any order, any number of times. One thread at a time.
class SqliteStatement final {
 public:
  static core::Result<SqliteStatement> prepare(sqlite3* database, std::string_view sql);

  // Ends the use before and takes new parameters, the first for $1.
  core::Result<void> start(const SqlRow& parameters);
  // True: a row stands ready for value(). False: there are no more.
  core::Result<bool> step();
  SqlRow row() const;
  // Lets go of locks and parameters. After every use, finished or not.
  void finish();

 private:
  struct Finalizer {
    void operator()(sqlite3_stmt* statement) const;
  };

  SqliteStatement(sqlite3* database, sqlite3_stmt* statement) : database_(database), statement_(statement) {}
  core::Result<void> number_parameters(std::string_view sql);
  int bind(int place, const SqlValue& value);
  SqlValue value(int column) const;

  sqlite3* database_;
  std::unique_ptr<sqlite3_stmt, Finalizer> statement_;
  std::vector<std::size_t> numbers_;  // for each of SQLite's places, the n of its $n
};

}  // namespace loadlight::store
