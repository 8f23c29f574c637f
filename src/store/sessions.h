// Sessions with a record, wherever its office is at present (whereabouts.h).
#pragma once

#include <chrono>
#include <memory>
#include <string>

#include "loadlight/store/group_record.h"
#include "loadlight/store/place.h"
#include "postgres_session.h"
#include "sqlite_session.h"

namespace loadlight::store {

// As open_record() and open_group_record() fail.
core::Result<std::unique_ptr<SqliteSession>> open_record_session(const std::string& office_folder,
                                                                 std::chrono::milliseconds patience);
core::Result<std::unique_ptr<SqlSession>> open_group_session(const std::string& address,
                                                             const GroupRecordOptions& options);

core::Result<std::unique_ptr<SqlSession>> open_place(const RecordPlace& place);

}  // namespace loadlight::store
