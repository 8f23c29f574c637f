// The size of a JPEG file's picture, from its markers (ITU-T T.81, annex B).
#pragma once

#include <optional>
#include <string_view>

namespace loadlight::render {

struct JpegSize final {
  int width = 0;  // pixels, 1 to kMostJpegSide, both included
  int height = 0;
};

inline constexpr int kMostJpegSide = 16384;  // of a page's picture

// Nothing when the bytes are no JPEG file of grey levels or colours (1 or 3 components) from its first marker
// to its last. Its picture is not decoded.
std::optional<JpegSize> jpeg_size(std::string_view bytes);

}  // namespace loadlight::render
