#include "loadlight/store/group_record.h"

#include <utility>

#include "group_schema.h"
#include "loadlight/core/names.h"
#include "postgres_session.h"
#include "schema.h"
#include "sessions.h"
#include "sql_store.h"
#include "whereabouts.h"

namespace loadlight::store {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::chrono::milliseconds kSetUpPatience{60000};
constexpr std::size_t kStationLength = 16;

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
  if (*version < kSchemaVersion) return failure(FailureCode::OfficeOlder, session, "made by an earlier program");
  Failure newer = failure(FailureCode::OfficeNewer, session, "made by a later program");
  newer.details.emplace_back("found", std::to_string(*version));
  newer.details.emplace_back("known", std::to_string(kSchemaVersion));
  return newer;
}

// Those that stand open are of programs that knew the tables as they were; opened again, they are told so. A role that
// may not do it leaves them to the next time they are opened.
void send_stations_away(SqlSession& session) {
  (void)session.run("SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity"
                    " WHERE datname = current_database() AND pid <> pg_backend_pid()").ok();
}

Result<std::unique_ptr<SqlSession>> open_station(const std::string& address, const GroupRecordOptions& options) {
  auto session = open_group_session(address, options);
  if (!session) return session;
  if (auto here = must_be_here(**session); !here) return here.failure();
  return session;
}

}  // namespace

Result<std::unique_ptr<SqlSession>> open_group_session(const std::string& address, const GroupRecordOptions& options) {
  auto session = PostgresSession::open(address, options.patience, options.station);
  if (!session) return session.failure();
  if (auto known = be_of_this_version(**session); !known) return known.failure();
  if (!options.office.empty()) {
    if (auto chosen = (*session)->choose_office(options.office); !chosen) return chosen.failure();
  }
  if (auto found = (*session)->find_own_office(); !found) return found.failure();
  return std::unique_ptr<SqlSession>{std::move(*session)};
}

Result<void> prepare_group(const std::string& address) {
  const auto session = PostgresSession::open(address, kSetUpPatience);
  if (!session) return session.failure();
  const auto version = (*session)->schema_version();
  if (!version) return version.failure();
  if (*version == 0) return create_group_schema(**session);
  if (*version >= kSchemaVersion) return be_of_this_version(**session);
  if (auto done = bring_group_up_to_date(**session); !done) return done;
  send_stations_away(**session);
  return {};
}

Result<void> admit_office(const std::string& address, const std::string& office, const std::string& role) {
  const auto session = PostgresSession::open(address, kSetUpPatience);
  if (!session) return session.failure();
  if (auto known = be_of_this_version(**session); !known) return known;
  return add_office(**session, office, role);
}

Result<void> admit_lead(const std::string& address, const std::string& role) {
  const auto session = PostgresSession::open(address, kSetUpPatience);
  if (!session) return session.failure();
  if (auto known = be_of_this_version(**session); !known) return known;
  return add_lead(**session, role);
}

Result<std::vector<std::string>> list_offices(const std::string& address) {
  const auto session = PostgresSession::open(address, kSetUpPatience);
  if (!session) return session.failure();
  if (auto known = be_of_this_version(**session); !known) return known.failure();
  const auto rows = (*session)->rows("SELECT led_offices()");
  if (!rows) return rows.failure();
  std::vector<std::string> names;
  for (const SqlRow& row : *rows) {
    if (const auto* name = std::get_if<std::string>(&row[0])) names.push_back(*name);
  }
  return names;
}

Result<std::unique_ptr<port::Store>> open_group_record(const std::string& address, GroupRecordOptions options) {
  if (!core::is_code(options.station, kStationLength)) {
    return Failure{FailureCode::BadValue, {{"field", "station"}, {"given", options.station}}, {}};
  }
  auto session = open_station(address, options);
  if (!session) return session.failure();
  auto pool = std::make_shared<SessionPool>([address, options] { return open_station(address, options); });
  pool->keep(std::move(*session));
  return std::unique_ptr<port::Store>{std::make_unique<SqlStore>(std::move(pool), options.patience, std::move(options.committed))};
}

Result<std::optional<std::string>> read_wrapped_keys(const std::string& address) {
  const auto session = PostgresSession::open(address, kSetUpPatience);
  if (!session) return session.failure();
  const auto row = (*session)->first_row("SELECT wrapped FROM office_keys");
  if (!row) return row.failure();
  const auto* wrapped = *row ? std::get_if<std::string>(&(**row)[0]) : nullptr;
  return wrapped ? std::optional{*wrapped} : std::nullopt;
}

Result<void> keep_wrapped_keys(const std::string& address, const std::optional<std::string>& before,
                               const std::string& wrapped) {
  const auto session = PostgresSession::open(address, kSetUpPatience);
  if (!session) return session.failure();
  const auto kept = before ? (*session)->first_row("UPDATE office_keys SET wrapped = $2 WHERE wrapped = $1 RETURNING 1",
                                                   {*before, wrapped})
                           : (*session)->first_row("INSERT INTO office_keys (wrapped) VALUES ($1)"
                                                   " ON CONFLICT DO NOTHING RETURNING 1", {wrapped});
  if (!kept) return kept.failure();
  if (!*kept) return failure(FailureCode::ChangedMeanwhile, **session, "keys");
  return {};
}

}  // namespace loadlight::store
