// One transaction of a session: all of it or nothing.
#pragma once

#include "loadlight/core/result.h"
#include "loadlight/port/store.h"
#include "sql_session.h"

namespace loadlight::store {

class [[nodiscard]] SqlTransaction final {
 public:
  enum class State { Open, Committed, RolledBack };

  static core::Result<SqlTransaction> begin(SqlSession& session, port::Access access);

  SqlTransaction(SqlTransaction&& other) noexcept;
  SqlTransaction& operator=(SqlTransaction&&) = delete;
  ~SqlTransaction() { roll_back(); }

  // After a failure the transaction is rolled back.
  core::Result<void> commit();
  // Does nothing once the transaction has ended.
  void roll_back();
  State state() const { return state_; }

 private:
  explicit SqlTransaction(SqlSession& session) : session_(&session) {}

  SqlSession* session_;
  State state_ = State::Open;
};

}  // namespace loadlight::store
