// A copy of an office that nobody works on: is it whole, and how far does it go?
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "loadlight/app/open_office.h"
#include "loadlight/app/world.h"

namespace loadlight::app {

// Where a record ends.
struct RecordEnd final {
  std::int64_t entry = 0;
  std::string hash;    // of that entry
  std::string office;  // hash of the first
  std::optional<core::Instant> newest;
};

core::Result<RecordEnd> end_of(port::Store& store);

struct VerifiedCopy final {
  std::unique_ptr<OpenOffice> office;
  RecordEnd end;
};

// RecordAltered (details: path, count, where) when its chain or a checkpoint speaks against it.
core::Result<VerifiedCopy> verified_copy(const World& world, const std::string& folder);

}  // namespace loadlight::app
