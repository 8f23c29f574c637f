// A session with the database that keeps the record.
//
// SQL is written once for every engine: parameters are $1, $2, …, the words are those that SQLite and
// PostgreSQL share; where the two differ the difference is a function here or in the dialect.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/result.h"
#include "sql_dialect.h"
#include "sql_value.h"

namespace loadlight::store {

// One thread at a time.
class SqlSession {
 public:
  virtual ~SqlSession() = default;

  virtual const SqlDialect& dialect() const = 0;

  // Statements are prepared once for each text, so texts are constants or come from a table's shape, and
  // never hold data. `run` is for those that yield no rows.
  virtual core::Result<std::vector<SqlRow>> rows(std::string_view sql, const SqlRow& parameters = {}) = 0;
  virtual core::Result<std::optional<SqlRow>> first_row(std::string_view sql, const SqlRow& parameters = {}) = 0;
  core::Result<void> run(std::string_view sql, const SqlRow& parameters = {});

  // Transactions are SqlTransaction's to begin and end. A writing one waits for those before it, and holds
  // off others as far as the engine needs it.
  virtual core::Result<void> begin_reading() = 0;
  virtual core::Result<void> begin_writing() = 0;
  virtual core::Result<void> commit() = 0;
  virtual void roll_back() = 0;

  // Which chain of the ledger this session appends to; empty where there is but one.
  virtual const std::string& chain() const = 0;
  // Of the entry to be appended after `last`, once the records that it changes are held.
  virtual core::Result<std::int64_t> next_sequence(std::int64_t last) = 0;
  // Lets nobody append any more, and waits for whoever is about to; lets them again, behind the last entry. In the
  // transaction that says so of the record (whereabouts.h).
  virtual core::Result<void> close_ledger() { return {}; }
  virtual core::Result<void> continue_ledger() { return {}; }
  // False once nothing more can be had of it: the connection is gone.
  virtual bool is_sound() const = 0;

  // A failure about what the record holds.
  virtual core::Failure damaged(std::string why) const = 0;

  // What marks a database as a record of ours, and its schema's version: 0 where there is no such mark.
  virtual core::Result<int> schema_version() = 0;
  virtual core::Result<void> mark_as_record(int version) = 0;
  // The statements that made everything in the database, where the engine keeps them word for word.
  virtual core::Result<std::optional<std::vector<std::string>>> kept_statements() {
    return std::optional<std::vector<std::string>>{};
  }
  // What the engine itself finds wrong with its file or its indexes; empty when nothing.
  virtual core::Result<std::vector<std::string>> structural_damage() = 0;
};

}  // namespace loadlight::store
