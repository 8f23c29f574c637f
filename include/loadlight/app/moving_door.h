// What moves an office's record from one place to another. A place is a folder or an address.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "loadlight/core/result.h"
#include "loadlight/port/store.h"
#include "loadlight/port/whereabouts.h"

namespace loadlight::app {

// RecordAltered (details: path, count, where): what was found, of which there is something.
core::Failure record_altered(const std::string& place, const std::vector<port::Alteration>& found);

struct CopyProgress final {
  std::int64_t done = 0;  // entries of the ledger
  std::int64_t all = 0;
};

struct MovingDoor final {
  // The same place under its one name.
  std::function<std::string(const std::string& place)> name_of;
  // Makes an empty record where a folder has none; of an address there is one.
  std::function<core::Result<void>(const std::string& place)> make_ready;
  std::function<core::Result<bool>(const std::string& place)> is_empty;
  std::function<core::Result<port::Whereabouts>(const std::string& place)> whereabouts;
  std::function<core::Result<void>(const std::string& place, const port::Whereabouts& whereabouts)> set_whereabouts;
  // Adds to `to` what `from` holds and it does not; how many entries. RecordsDiffer.
  std::function<core::Result<std::int64_t>(const std::string& from, const std::string& to,
                                           const std::function<bool(const CopyProgress&)>& goes_on)>
      copy_entries;
  std::function<core::Result<std::vector<port::Alteration>>(
      const std::string& place, const std::function<bool(const port::VerifyProgress&)>& goes_on)>
      verify;
  // True when both ledgers stand at the same entries.
  std::function<core::Result<bool>(const std::string& one, const std::string& other)> are_same;
  // One of the office's files, private to its user, in the place of what was there.
  std::function<core::Result<void>(const std::string& path, const std::string& bytes)> put_file;
  // Once the files are there: lets this station open the office there, and of an address its other stations.
  std::function<core::Result<void>(const std::string& place)> hand_keys;
};

}  // namespace loadlight::app
