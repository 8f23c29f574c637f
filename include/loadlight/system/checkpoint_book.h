// The checkpoints of an office: `checkpoints.jsonl` in its folder, `<office>.checkpoints` in the station's.
#pragma once

#include <memory>
#include <string>

#include "loadlight/port/checkpoints.h"

namespace loadlight::system {

// Nothing is opened or made until it is asked for. Thread-safe.
std::unique_ptr<port::CheckpointBook> open_checkpoint_book(const std::string& office_folder);

}  // namespace loadlight::system
