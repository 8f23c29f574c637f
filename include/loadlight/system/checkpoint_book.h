// The checkpoints of an office: `checkpoints.jsonl` in its folder, `<office>.checkpoints` in the station's.
#pragma once

#include <memory>
#include <string>

#include "loadlight/port/checkpoints.h"

namespace loadlight::system {

// Nothing is opened or made until it is asked for. Thread-safe.
std::unique_ptr<port::CheckpointBook> open_checkpoint_book(const std::string& office_folder);

// For an office that came to this folder from another place: writes into its file what this station keeps of it and the
// file lacks. `office`: as its checkpoints name it. FileUnreadable, FileUnwritable.
core::Result<void> take_up_checkpoints(const std::string& office_folder, std::string_view office);

}  // namespace loadlight::system
