// Where the program finds what it is made of and where an office lives. The build tree is laid out like
// an installed prefix (bin, share, lib), so both are found from the program's own place alone.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/core/result.h"

namespace loadlight::system {

// $LOADLIGHT_OFFICE, else loadlight/office under $XDG_DATA_HOME, else under ~/.local/share. Nothing is
// made. An empty variable counts as unset.
std::string default_office_folder();

// What the station keeps for itself, out of the office's folder: $LOADLIGHT_STATION, else loadlight under
// $XDG_STATE_HOME, else under ~/.local/state. Nothing is made.
std::string station_folder();
// Makes it, private to its user; nobody's home is made. FileUnwritable or DiskFull (details: path, why).
core::Result<void> make_station_folder(const std::string& folder);

// The folder of labels/ and words/: $LOADLIGHT_TEMPLATES, else share/loadlight beside the program's bin.
std::string templates_folder();

// The folder of the demo office and other samples: $LOADLIGHT_SAMPLES, else the program's examples.
std::string samples_folder();

// The file of a part that is loaded on demand, such as "render".
std::string part_path(std::string_view name);

}  // namespace loadlight::system
