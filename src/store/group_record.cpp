#include "loadlight/store/group_record.h"

#include <utility>

#include "group_schema.h"
#include "postgres_session.h"
#include "schema.h"
#include "sql_store.h"

namespace loadlight::store {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::chrono::milliseconds kSetUpPatience{60000};

Failure failure(FailureCode code, const SqlSession& session, std::string why) {
  Failure made = session.damaged(std::move(why));
  made.code = code;
  return made;
}

Result<void> be_of_this_version(SqlSession& session) {
  const auto version = session.schema_version();
  if (!version) return version.failure();
  if (*version == kSchemaVersion) return {};
  if (*version == 0) return failure(FailureCode::OfficeAbsent, session, "no tables of this program");
  if (*version < kSchemaVersion) return failure(FailureCode::OfficeUnreadable, session, "made by an earlier program");
  Failure newer = failure(FailureCode::OfficeNewer, session, "made by a later program");
  newer.details.emplace_back("found", std::to_string(*version));
  newer.details.emplace_back("known", std::to_string(kSchemaVersion));
  return newer;
}

Result<void> belong_to_an_office(SqlSession& session) {
  const auto row = session.first_row("SELECT own_office()");
  if (!row) return row.failure();
  if (*row && !std::holds_alternative<std::monostate>((**row)[0])) return {};
  return failure(FailureCode::OfficeAbsent, session, "this role belongs to no office");
}

}  // namespace

Result<void> prepare_group(const std::string& address) {
  const auto session = PostgresSession::open(address, kSetUpPatience);
  if (!session) return session.failure();
  const auto version = (*session)->schema_version();
  if (!version) return version.failure();
  if (*version == 0) return create_group_schema(**session);
  return be_of_this_version(**session);
}

Result<void> admit_office(const std::string& address, const std::string& office, const std::string& role) {
  const auto session = PostgresSession::open(address, kSetUpPatience);
  if (!session) return session.failure();
  if (auto known = be_of_this_version(**session); !known) return known;
  return add_office(**session, office, role);
}

Result<std::unique_ptr<port::Store>> open_group_record(const std::string& address, GroupRecordOptions options) {
  auto session = PostgresSession::open(address, options.patience);
  if (!session) return session.failure();
  if (auto known = be_of_this_version(**session); !known) return known.failure();
  if (auto belongs = belong_to_an_office(**session); !belongs) return belongs.failure();
  auto pool = std::make_shared<SessionPool>(
      [address, patience = options.patience]() -> Result<std::unique_ptr<SqlSession>> {
        auto opened = PostgresSession::open(address, patience);
        if (!opened) return opened.failure();
        return std::unique_ptr<SqlSession>{std::move(*opened)};
      });
  pool->keep(std::move(*session));
  return std::unique_ptr<port::Store>{std::make_unique<SqlStore>(std::move(pool))};
}

}  // namespace loadlight::store
