// Port: the checkpoints of one office, kept in its folder and, out of reach of whoever alters that, in the
// station's own. Implemented by system.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/checkpoint.h"
#include "loadlight/core/result.h"

namespace loadlight::port {

struct KeptCheckpoint final {
  int line = 0;  // of its file
  core::Checkpoint checkpoint;
  bool genuine = false;  // the signature fits the key it names
  bool own = false;      // genuine, and the key is this station's
};

struct CheckpointList final {
  std::string path;
  bool present = false;
  std::vector<KeptCheckpoint> kept;  // in the order in which they were made
  int unreadable = 0;                // lines that were cut off, or are no checkpoints
};

class CheckpointBook {
 public:
  virtual ~CheckpointBook() = default;

  // Signs a checkpoint and appends it to both files, for good; the station's key is made at first need. Safe
  // with others who append. On failure it may stand in the office's file alone. FileUnwritable, FileUnreadable
  // or DiskFull (details: path, why).
  virtual core::Result<core::Checkpoint> keep(core::Checkpoint checkpoint) = 0;

  // When the newest one of the office's file was made, without reading the whole of it.
  virtual std::optional<core::Instant> newest() const = 0;

  // FileUnreadable; an absent file is an answer.
  virtual core::Result<CheckpointList> of_office() const = 0;
  virtual core::Result<CheckpointList> of_station(std::string_view office) const = 0;
  // Those of a text that somebody kept elsewhere.
  virtual CheckpointList parse(std::string path, std::string_view text) const = 0;

  // Offices of which the station's last checkpoint was made in this folder, before the office there now was
  // begun, or without its ever having been begun there.
  virtual core::Result<std::vector<std::string>> others_here(std::string_view office) const = 0;

  // A checkpoint as the line of text that is kept, without its end.
  virtual std::string line_of(const core::Checkpoint& checkpoint) const = 0;
};

}  // namespace loadlight::port
