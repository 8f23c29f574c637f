// A session with the records of one office in a PostgreSQL database.
#pragma once

#include <chrono>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "postgres_line.h"
#include "sql_session.h"

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
  PostgresSession(std::string address, Line line, std::string place, std::string chain, std::chrono::milliseconds patience)
      : address_(std::move(address)), line_(std::move(line)), place_(std::move(place)), chain_(std::move(chain)), patience_(patience) {}
  core::Result<void> configure();
  core::Result<Answer> asked(Answer answer);
  // What was sent, and whether it could be. Without a limit a statement may take as long as its server lives.
  core::Result<Answer> answered(int sent, std::optional<std::chrono::milliseconds> at_most = {});
  core::Result<Answer> at_once(const char* sql, std::optional<std::chrono::milliseconds> at_most = {});
  // Where the commit was cut off; else the failure as it is.
  core::Failure told_of_commit(core::Failure failure) const;
  bool is_open() const;
  core::Result<const char*> prepared(std::string_view sql);
  core::Result<void> take_turn();
  core::Result<void> take_turn_at_repeating();
  void end_turn();
  void tell_others();

  const std::string address_;
  Line line_;
  bool dead_ = false;  // the line gave no answer any more: nothing else is to be sent over it
  std::string place_;  // host and database, without secrets
  std::string chain_;
  const std::chrono::milliseconds patience_;
  bool writing_ = false;  // in a transaction that writes
  std::string state_;     // SQLSTATE of the last failure; empty: the server said nothing
  std::string next_sequence_sql_;
  std::string tell_others_sql_;
  SqlRow turn_;              // what names this office's chain among the server's advisory locks
  bool has_turn_ = false;
  SqlRow turn_at_repeating_;  // likewise, for all stations of the office
  bool has_turn_at_repeating_ = false;
  bool met_change_ = false;  // the last transaction that wrote met another's change
  std::optional<core::Failure> broken_;  // why the last statement failed, in this transaction
  std::map<std::string, std::string, std::less<>> names_;  // of prepared statements, by their text
};

}  // namespace loadlight::store
