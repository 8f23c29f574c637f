// The office's record: an SQLite database, `record.db`, in the office's folder.
#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <string>

#include "loadlight/core/result.h"
#include "loadlight/port/store.h"

namespace loadlight::store {

struct RecordOptions final {
  // How long a unit waits for another program or thread that is writing, before OfficeBusy.
  std::chrono::milliseconds patience{5000};
  // Told of every commit that added to the ledger, once it is durable and no lock is held; must not throw.
  std::function<void(const port::Committed&)> committed{};
};

// Makes an empty record, readable and writable by its owner alone (0600), in an existing folder.
// Fails with OfficeAbsent (no such folder), OfficeExists (it has a record), OfficeReadOnly, DiskFull or
// OfficeUnreadable (details: path, why); then nothing of it remains in the folder.
//
// A Store may be used from several threads; each of its units by one. Units end before their store does.
core::Result<std::unique_ptr<port::Store>> create_record(const std::string& office_folder,
                                                         RecordOptions options = {});

// Opens a record for reading and writing. Details of every failure: path, why.
//   OfficeAbsent      no such folder, or no record in it
//   OfficeUnreadable  not a file, not a database, not one of ours, or forbidden
//   OfficeReadOnly    the file or its folder cannot be written
//   OfficeNewer       made by a later program (details also: found, known)
//   OfficeMoved, OfficeArriving  not what the office works on (place.h; details also: place)
//   OfficeBusy        another program held it longer than the patience
//   RecordDamaged     the database's own structure is broken
core::Result<std::unique_ptr<port::Store>> open_record(const std::string& office_folder,
                                                       RecordOptions options = {});

// Writes the record as it stands at one moment into a new file, readable and writable by its owner alone; it can
// be opened in the place of the record. Fails as open_record() does; FileExists when there is such a file.
core::Result<void> copy_record(const std::string& office_folder, const std::string& path,
                               RecordOptions options = {});

}  // namespace loadlight::store
