// A session with the records of one office in a PostgreSQL database.
#pragma once

#include <chrono>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sql_session.h"

struct pg_conn;
struct pg_result;

namespace loadlight::store {

class PostgresSession final : public SqlSession {
 public:
  // `address` is what libpq takes; `chain` names the station. OfficeUnreadable when no server answers.
  static core::Result<std::unique_ptr<PostgresSession>> open(const std::string& address,
                                                             std::chrono::milliseconds patience,
                                                             std::string chain = {});

  const SqlDialect& dialect() const override;
  core::Result<std::vector<SqlRow>> rows(std::string_view sql, const SqlRow& parameters = {}) override;
  core::Result<std::optional<SqlRow>> first_row(std::string_view sql, const SqlRow& parameters = {}) override;
  // For a role that leads the group: whose records it works in from now on. Nothing to every other role.
  core::Result<void> choose_office(const std::string& name);
  // OfficeAbsent when the role belongs to no office, or leads and has chosen none. Before the first writing.
  core::Result<void> find_own_office();
  core::Result<void> begin_reading() override;
  core::Result<void> begin_writing() override;
  core::Result<void> commit() override;
  void roll_back() override;
  const std::string& chain() const override { return chain_; }
  core::Result<std::int64_t> next_sequence(std::int64_t last) override;
  core::Result<void> close_ledger() override { return run("SELECT close_ledger()"); }
  core::Result<void> continue_ledger() override { return run("SELECT continue_ledger()"); }
  bool is_sound() const override;
  core::Failure damaged(std::string why) const override;
  core::Result<int> schema_version() override;
  core::Result<void> mark_as_record(int version) override;
  core::Result<std::vector<std::string>> structural_damage() override;

 private:
  struct Closer {
    void operator()(pg_conn* connection) const;
  };
  struct Clearer {
    void operator()(pg_result* result) const;
  };
  using Answer = std::unique_ptr<pg_result, Clearer>;

  PostgresSession(pg_conn* connection, std::string place, std::string chain)
      : connection_(connection), place_(std::move(place)), chain_(std::move(chain)) {}
  core::Result<void> configure(std::chrono::milliseconds patience);
  core::Result<Answer> asked(Answer answer);
  core::Result<Answer> at_once(const char* sql);
  core::Result<const char*> prepared(std::string_view sql);
  core::Result<void> take_turn();
  void end_turn();

  std::unique_ptr<pg_conn, Closer> connection_;
  std::string place_;  // host and database, without secrets
  std::string chain_;
  std::string next_sequence_sql_;
  SqlRow turn_;              // what names this office's chain among the server's advisory locks
  bool has_turn_ = false;
  std::optional<core::Failure> broken_;  // why the last statement failed, in this transaction
  std::map<std::string, std::string, std::less<>> names_;  // of prepared statements, by their text
};

}  // namespace loadlight::store
