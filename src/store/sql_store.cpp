#include "sql_store.h"

#include "ledger.h"
#include "row_batches.h"
#include "sql_transaction.h"
#include "verification.h"

namespace loadlight::store {

core::Result<std::unique_ptr<port::Unit>> SqlStore::begin_once(port::Access access) {
  std::optional<WritingTurns::Turn> turn;
  if (access == port::Access::Write) {
    if (auto mine = turns_->take(patience_)) turn.emplace(std::move(*mine));
    if (!turn) return core::Failure{core::FailureCode::OfficeBusy, {{"why", "others write before this"}}, {}};
  }
  auto session = pool_->borrow();
  if (!session) return session.failure();
  return SqlUnit::begin(std::move(*session), access, std::move(turn), told_);
}

// An idle session does not know yet that its server went away and came back, or that another took its place.
core::Result<std::unique_ptr<port::Unit>> SqlStore::begin(port::Access access) {
  const bool had_idle = pool_->has_idle();
  auto unit = begin_once(access);
  if (unit || !had_idle || unit.failure().code != core::FailureCode::OfficeUnreadable) return unit;
  pool_->drop_idle();
  return begin_once(access);
}

core::Result<void> SqlStore::each_entry(const std::function<bool(const core::LedgerEntry&)>& visit) {
  const auto session = pool_->borrow();
  if (!session) return session.failure();
  const auto transaction = SqlTransaction::begin(**session, port::Access::Read);
  if (!transaction) return transaction.failure();
  return each_record<core::LedgerEntry>(**session, visit);
}

// In a session of its own, which takes what verification laid down in it along when it closes.
core::Result<std::vector<port::Alteration>> SqlStore::verify(
    const std::function<bool(const port::VerifyProgress&)>& goes_on) {
  const auto session = pool_->open();
  if (!session) return session.failure();
  if (const auto laid = lay_out_verification(**session); !laid) return laid.failure();
  const auto transaction = SqlTransaction::begin(**session, port::Access::Read);
  if (!transaction) return transaction.failure();
  return verify_record(**session, goes_on);
}

}  // namespace loadlight::store
