// Use case: an office is put back from its backup, and what the backup cannot know is said.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/move_office.h"
#include "loadlight/app/world.h"
#include "loadlight/core/load.h"
#include "loadlight/core/package.h"

namespace loadlight::app {

struct RestoreRequest final {
  std::string file;
  std::string into;    // absent, or an empty folder; or the address of an office of a group that is empty
  std::string beside;  // the office's folder as it was, where it can still be read; may be empty
  std::string operator_code;
};

// What is known of the time after the backup, by checkpoints or by the old folder.
struct NewerElsewhere final {
  std::int64_t last_entry = 0;         // of the ledger as it was
  std::optional<core::Instant> latest;  // when it had come that far
};

// A package that the old folder knows otherwise; what each says of it and of its load, or nothing.
struct PackageApart final {
  core::PackageId id;
  std::optional<core::PackageState> restored, beside;
  std::optional<core::LoadState> restored_load, beside_load;
  bool beside_recalled = false;
};

struct RestoreReply final {
  std::int64_t entry = 0;  // the backup's last
  std::optional<core::Instant> newest;
  std::optional<NewerElsewhere> by_checkpoints, by_beside;
  std::vector<PackageApart> apart;
  std::vector<core::Sentence> notes;
};

// By a lead of the backup's own record. FileExists when something lies in its place; BackupUnreadable (details:
// path, why); RecordAltered when the backup is not whole; then nothing was put anywhere.
//
// Into a group it goes by way of a folder of this station's; OfficeExists when people work on a record there. What fails
// once the folder stands names it (detail: restored): move_office goes on from there. `goes_on` is the move's.
core::Result<RestoreReply> restore_office(const World& world, const RestoreRequest& request,
                                          const std::function<bool(const MoveProgress&)>& goes_on = {});

}  // namespace loadlight::app
