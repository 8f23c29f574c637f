// Port: pictures as the readers take them, files of them, and small pictures for reports. Implemented by
// vision.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "loadlight/core/result.h"

namespace loadlight::port {

// A point of a picture in pixels: (0, 0) is the top left corner of the top left pixel, y grows down.
struct PixelPoint final {
  double x = 0;
  double y = 0;
};

// Of a symbol, clockwise from the symbol's own top left.
using Corners = std::array<PixelPoint, 4>;

// A view of grey levels that somebody else owns; valid only as long as its owner.
struct GrayView final {
  const std::uint8_t* pixels = nullptr;
  int width = 0;   // pixels
  int height = 0;  // pixels
  int stride = 0;  // bytes from one row to the next, at least `width`
};

// A picture that owns its grey levels, rows tightly packed.
struct GrayPicture final {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> pixels;  // width * height

  GrayView view() const { return {pixels.data(), width, height, width}; }
};

// The largest picture that is taken, in pixels (included): 200 million, as the largest telephone cameras
// make. Its grey levels take a byte each; while a colour WebP or TIFF of that size is decoded, up to five.
inline constexpr std::uint64_t kMostPicturePixels = 200'000'000;

// Reads pictures: PNG, JPEG (turned upright by its EXIF orientation), WebP, TIFF, BMP, PBM/PGM/PPM; of
// several frames or pages the first; transparency is laid on white. Thread-safe.
class PictureSource {
 public:
  virtual ~PictureSource() = default;

  // Fails with FileUnreadable (details: path, why) when it is absent, a folder or may not be read, and
  // else as `decode` does, with the detail `path` before the others.
  virtual core::Result<GrayPicture> read_file(const std::string& path) const = 0;

  // The same from a file's bytes. Fails with ImageUnreadable (detail: problem, one of empty, pdf, heic, gif,
  // unknown-format, truncated, damaged) or ImageTooLarge (details: width, height, megapixels); the size is
  // decided from the header, before decoding.
  virtual core::Result<GrayPicture> decode(std::span<const std::uint8_t> bytes) const = 0;

  // A JPEG file's bytes of a view reduced so that its longer side has at most `longest` pixels; for reports.
  // Empty if it cannot be made.
  virtual std::string jpeg(GrayView view, int longest) const = 0;
};

}  // namespace loadlight::port
