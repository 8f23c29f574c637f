// The records of one or many offices in a PostgreSQL database, each to be opened by the roles of its office alone.
#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <string>

#include "loadlight/core/result.h"
#include "loadlight/port/store.h"

namespace loadlight::store {

struct GroupRecordOptions final {
  // Names this station's chain in the ledger: 1 to 16 of 0-9 and A-Z, each station its own.
  std::string station;
  // How long a statement waits for a lock, before OfficeBusy.
  std::chrono::milliseconds patience{5000};
  // As in RecordOptions (record.h).
  std::function<void(const port::Committed&)> committed{};
};

// Addresses are what libpq takes, "postgresql://role@host/database" or "host=… dbname=…".

// Makes the tables in an empty database, or brings those of an earlier program up to date; a database that is up
// to date stays as it is. `address` is of a role that may make schemas and roles. Fails with OfficeUnreadable (no
// such server or right), OfficeNewer (made by a later program).
core::Result<void> prepare_group(const std::string& address);

// Makes an office of this name, with an empty record, for a role that may log in; an office that is there gets the
// role beside those it has. `address` as above. CodeTaken… see the failure's details.
core::Result<void> admit_office(const std::string& address, const std::string& office, const std::string& role);

// The record of the office that the address's role belongs to. OfficeAbsent when it belongs to none,
// BadValue (a station's name that is none), OfficeNewer, OfficeUnreadable also when the tables are of an earlier program (details: path,
// why). A Store may be used from several threads; each of its units by one.
core::Result<std::unique_ptr<port::Store>> open_group_record(const std::string& address,
                                                             GroupRecordOptions options);

}  // namespace loadlight::store
