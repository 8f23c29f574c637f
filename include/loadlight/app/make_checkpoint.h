// Use case: a checkpoint of the ledger is signed and kept, by itself after a commit or when somebody asks.
#pragma once

#include <string_view>

#include "loadlight/app/ports.h"
#include "loadlight/port/checkpoints.h"

namespace loadlight::app {

// When the commit or the day asks for one. What fails here is told by the next verification: the commit stands.
core::Result<void> checkpoint_after(port::CheckpointBook& book, core::Instant now, const port::Committed& done);

// Of a record that was put back from a copy which ended with entry `after`.
core::Result<void> checkpoint_restored(port::CheckpointBook& book, const Ports& ports, std::int64_t after);

// Writes that one is taken, and takes it with that entry in it. Any current operator may.
core::Result<core::Checkpoint> take_checkpoint(port::CheckpointBook& book, const Ports& ports,
                                               std::string_view operator_code);

}  // namespace loadlight::app
