// A session with the records of one office in a PostgreSQL database.
#pragma once

#include <chrono>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "sql_session.h"

struct pg_conn;
struct pg_result;

namespace loadlight::store {

class PostgresSession final : public SqlSession {
 public:
  // `address` is what libpq takes. OfficeUnreadable when no server answers.
  static core::Result<std::unique_ptr<PostgresSession>> open(const std::string& address,
                                                             std::chrono::milliseconds patience);

  const SqlDialect& dialect() const override;
  core::Result<std::vector<SqlRow>> rows(std::string_view sql, const SqlRow& parameters = {}) override;
  core::Result<std::optional<SqlRow>> first_row(std::string_view sql, const SqlRow& parameters = {}) override;
  core::Result<void> begin_reading() override;
  core::Result<void> begin_writing() override;
  core::Result<void> commit() override;
  void roll_back() override;
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

  PostgresSession(pg_conn* connection, std::string place) : connection_(connection), place_(std::move(place)) {}
  core::Result<void> configure(std::chrono::milliseconds patience);
  core::Result<Answer> asked(Answer answer) const;
  core::Result<Answer> at_once(const char* sql);
  core::Result<const char*> prepared(std::string_view sql);

  std::unique_ptr<pg_conn, Closer> connection_;
  std::string place_;  // host and database, without secrets
  std::map<std::string, std::string, std::less<>> names_;  // of prepared statements, by their text
};

}  // namespace loadlight::store
