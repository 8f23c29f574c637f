#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace loadlight::vision {

// An animated WebP's first frame as a still WebP file (without its transparency); empty if it has none.
// OpenCV 4.6 reads stills only.
std::vector<std::uint8_t> webp_first_frame(std::span<const std::uint8_t> bytes);

}  // namespace loadlight::vision
