// What a picture file says of itself, read before anything is decoded.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "loadlight/core/result.h"

namespace loadlight::vision {

struct PictureHeader final {
  std::uint64_t width = 0;   // pixels, before any EXIF turn
  std::uint64_t height = 0;  // pixels
  bool has_alpha = false;
  bool animated = false;  // a WebP whose frames come in a container of their own
  bool whole = false;     // the file reaches as far as its own structure says
};

// Fails with ImageUnreadable and a detail "problem": `empty`, `pdf`, `heic`, `gif` or `unknown-format`
// (none that can be read), `truncated`, or `damaged` (no size).
core::Result<PictureHeader> read_header(std::span<const std::uint8_t> bytes);

core::Failure unreadable_picture(std::string_view problem);

}  // namespace loadlight::vision
