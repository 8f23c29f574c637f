// Port: finds and decodes QR symbols in pictures. Implemented by vision.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
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

// A symbol that was decoded. Corners run clockwise from the symbol's own top left.
struct SymbolSighting final {
  std::string text;  // UTF-8
  std::array<PixelPoint, 4> corners;
};

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

class SymbolReader {
 public:
  virtual ~SymbolReader() = default;

  // Every QR symbol in the picture, however many, each once, top to bottom and left to right. Finding
  // none is an empty list, not a failure. Thread-safe.
  virtual std::vector<SymbolSighting> read(GrayView picture) const = 0;
};

// The largest picture that is taken, in pixels (included): 200 million, as the largest telephone cameras
// make. Its grey levels take a byte each; while a colour WebP or TIFF of that size is decoded, up to five.
inline constexpr std::uint64_t kMostPicturePixels = 200'000'000;

// Reads pictures: PNG, JPEG (turned upright by its EXIF orientation), WebP, TIFF, BMP, PBM/PGM/PPM; of
// several frames or pages the first; transparency is laid on white. Thread-safe.
class PictureSource {
 public:
  virtual ~PictureSource() = default;

  // Fails with FileUnreadable (details: file, problem) when it is absent, a folder or may not be read, and
  // else as `decode` does, with the detail `file` before the others.
  virtual core::Result<GrayPicture> read_file(const std::string& path) const = 0;

  // The same from a file's bytes. Fails with ImageUnreadable (detail: problem, one of empty, pdf, heic, gif,
  // unknown-format, truncated, damaged) or ImageTooLarge (details: width, height, megapixels); the size is
  // decided from the header, before decoding.
  virtual core::Result<GrayPicture> decode(std::span<const std::uint8_t> bytes) const = 0;
};

// A camera: frames until it is closed or fails.
class FrameSource {
 public:
  virtual ~FrameSource() = default;

  // The next frame, blocking; CameraUnavailable when the camera is gone. Not thread-safe.
  virtual core::Result<GrayPicture> next() = 0;
};

class CameraDoor {
 public:
  virtual ~CameraDoor() = default;
  // Opens camera `number` (0 is the first); CameraUnavailable if there is none or it is taken.
  virtual core::Result<std::unique_ptr<FrameSource>> open(int number) const = 0;
};

}  // namespace loadlight::port
