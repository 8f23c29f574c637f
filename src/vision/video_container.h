// What kind of file a video lies in, and whether it is whole, told from its bytes alone.
#pragma once

#include <istream>
#include <optional>

namespace loadlight::vision {

enum class Container { Iso, Avi, Matroska, Other };

// Nothing for a file that is none of the containers we let a decoder open. Playlists, scripts of addresses
// and lists of pictures are none: a decoder would follow them to other files.
std::optional<Container> container_of(std::istream& file);

// Whether the container says that it goes on after the end of the file, or lacks the part without which it
// cannot be played. Containers that do not say their length are never found cut.
bool is_cut_short(std::istream& file, Container container);

}  // namespace loadlight::vision
