// The records of one or many offices in a PostgreSQL database, each to be opened by the roles of its office alone.
#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

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
  // For a role that leads the group: the office's name. Others have their own.
  std::string office{};
};

// Addresses are what libpq takes, "postgresql://role@host/database" or "host=… dbname=…". Several hosts with a comma
// between are tried in turn; the one that takes changes is chosen.

// Makes the tables in an empty database, or brings those of an earlier program up to date; a database that is up
// to date stays as it is. `address` is of a role that may make schemas and roles. Fails with OfficeUnreadable (no
// such server or right), OfficeNewer (made by a later program).
core::Result<void> prepare_group(const std::string& address);

// Makes an office of this name, with an empty record, for a role that may log in; an office that is there gets the
// role beside those it has. `address` as above. BadValue when there is no such role; else as prepare_group().
core::Result<void> admit_office(const std::string& address, const std::string& office, const std::string& role);

// Lets a role that belongs to no office work in every one, one at a time. `address` as above.
core::Result<void> admit_lead(const std::string& address, const std::string& role);

// The names of all offices, in their order, for a role that leads; none for others.
core::Result<std::vector<std::string>> list_offices(const std::string& address);

// The record of the office that the address's role belongs to, or that a lead chose. OfficeAbsent when there is none,
// BadValue (a station's name that is none), OfficeNewer, OfficeOlder (the tables are of an earlier program),
// OfficeMoved, OfficeArriving (place.h), OfficeUnreadable (details: path, why). A Store may be used from several
// threads; each of its units by one.
core::Result<std::unique_ptr<port::Store>> open_group_record(const std::string& address,
                                                             GroupRecordOptions options);

// What the stations of an office keep there for each other of its keys, wrapped; nothing before the first.
core::Result<std::optional<std::string>> read_wrapped_keys(const std::string& address);
// In the place of `before` and of nothing else: ChangedMeanwhile when another station was first.
core::Result<void> keep_wrapped_keys(const std::string& address, const std::optional<std::string>& before,
                                     const std::string& wrapped);

}  // namespace loadlight::store
