#include "sql_transaction.h"

#include <utility>

namespace loadlight::store {

core::Result<SqlTransaction> SqlTransaction::begin(SqlSession& session, port::Access access) {
  const auto begun = access == port::Access::Write ? session.begin_writing() : session.begin_reading();
  if (!begun) return begun.failure();
  return SqlTransaction{session};
}

SqlTransaction::SqlTransaction(SqlTransaction&& other) noexcept
    : session_(other.session_), state_(std::exchange(other.state_, State::RolledBack)) {}

core::Result<void> SqlTransaction::commit() {
  if (state_ != State::Open) {
    return core::Failure{core::FailureCode::Internal, {{"why", "this unit has ended"}}, {}};
  }
  auto committed = session_->commit();
  if (committed) {
    state_ = State::Committed;
  } else {
    roll_back();
  }
  return committed;
}

void SqlTransaction::roll_back() {
  if (state_ != State::Open) return;
  session_->roll_back();
  state_ = State::RolledBack;
}

}  // namespace loadlight::store
