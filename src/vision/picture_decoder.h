#pragma once

#include <cstdint>
#include <span>

#include "loadlight/port/picture.h"

namespace loadlight::vision {

// A picture file's bytes as grey levels, upright by its EXIF orientation, transparency laid on white,
// 16 bits narrowed to 8, the first frame of several. Failures as port::PictureSource::decode has them.
core::Result<port::GrayPicture> decode_picture(std::span<const std::uint8_t> bytes);

}  // namespace loadlight::vision
