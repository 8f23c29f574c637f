// Checkpoints as lines of text, and what their signatures are made over.
//
//   signed   = "loadlight checkpoint 1" LF  field field field field field field
//   fields   = sequence, hash, at, office, restored-after, key, in this order
//   field    = length ":" bytes LF
//   length   = decimal count of the bytes
//   sequence, at, restored-after = decimal, at in milliseconds since 1970-01-01 UTC, restored-after empty where
//   there is none; hash, office, key = lower-case hex digits
//
//   line     = one JSON object of these names ("restored_after" only where there is one) and "signature"; in the
//   station's own files also "folder", where the office was, and "begun", when it was begun there
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "loadlight/port/checkpoints.h"

namespace loadlight::system {

// A line of a station's own file.
struct StationLine final {
  core::Checkpoint checkpoint;
  std::string folder;
  bool begun = false;
};

std::string signed_bytes(const core::Checkpoint& checkpoint);

// Without the line's end.
std::string print_line(const core::Checkpoint& checkpoint);
std::string print_line(const StationLine& line);

// Nothing for what is no such line; of an office's line the folder is empty.
std::optional<StationLine> parse_line(std::string_view line);

// The whole of a file. `own_key`: this station's, empty when it has none.
port::CheckpointList parse_list(std::string path, std::string_view text, std::string_view own_key);

}  // namespace loadlight::system
