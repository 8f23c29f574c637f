#include "loadlight/store/place.h"

#include "sessions.h"
#include "sql_transaction.h"
#include "verification.h"
#include "whereabouts.h"

namespace loadlight::store {
namespace {

using core::Result;

constexpr std::chrono::milliseconds kPatience{60000};

}  // namespace

Result<std::unique_ptr<SqlSession>> open_place(const RecordPlace& place) {
  if (place.folder.empty()) {
    return open_group_session(place.address, {.station = {}, .patience = kPatience, .office = place.office});
  }
  auto session = open_record_session(place.folder, kPatience);
  if (!session) return session.failure();
  return std::unique_ptr<SqlSession>{std::move(*session)};
}

Result<Whereabouts> whereabouts_of(const RecordPlace& place) {
  const auto session = open_place(place);
  if (!session) return session.failure();
  return read_whereabouts(**session);
}

Result<void> set_whereabouts(const RecordPlace& place, const Whereabouts& whereabouts) {
  const auto session = open_place(place);
  if (!session) return session.failure();
  auto transaction = SqlTransaction::begin(**session, port::Access::Write);
  if (!transaction) return transaction.failure();
  if (auto written = write_whereabouts(**session, whereabouts); !written) return written;
  return transaction->commit();
}

Result<bool> is_empty_record(const RecordPlace& place) {
  const auto session = open_place(place);
  if (!session) return session.failure();
  const auto row = (*session)->first_row("SELECT sequence FROM ledger LIMIT 1");
  if (!row) return row.failure();
  return !row->has_value();
}

Result<std::vector<port::Alteration>> verify_place(const RecordPlace& place,
                                                   const std::function<bool(const port::VerifyProgress&)>& goes_on) {
  const auto session = open_place(place);
  if (!session) return session.failure();
  if (const auto laid = lay_out_verification(**session); !laid) return laid.failure();
  const auto transaction = SqlTransaction::begin(**session, port::Access::Read);
  if (!transaction) return transaction.failure();
  return verify_record(**session, goes_on);
}

}  // namespace loadlight::store
