#include "render/jpeg_size.h"

namespace loadlight::render {
namespace {

constexpr unsigned kStartOfImage = 0xD8, kEndOfImage = 0xD9, kStartOfScan = 0xDA;

unsigned byte_at(std::string_view bytes, std::size_t at) {
  return at < bytes.size() ? static_cast<unsigned char>(bytes[at]) : 0;
}
unsigned word_at(std::string_view bytes, std::size_t at) {
  return byte_at(bytes, at) << 8 | byte_at(bytes, at + 1);
}
bool is_marker(std::string_view bytes, std::size_t at, unsigned marker) {
  return word_at(bytes, at) == (0xFF00U | marker);
}

// Frames by Huffman coding: baseline, extended and progressive. Printers take no other.
bool is_frame(unsigned marker) {
  return marker >= 0xC0 && marker <= 0xC2;
}

std::optional<JpegSize> frame_size(std::string_view bytes, std::size_t segment) {
  const unsigned precision = byte_at(bytes, segment + 2), components = byte_at(bytes, segment + 7);
  const JpegSize size{static_cast<int>(word_at(bytes, segment + 5)),
                      static_cast<int>(word_at(bytes, segment + 3))};
  const bool sized =
      size.width > 0 && size.height > 0 && size.width <= kMostJpegSide && size.height <= kMostJpegSide;
  if (precision != 8 || (components != 1 && components != 3) || !sized) return std::nullopt;
  return size;
}

}  // namespace

std::optional<JpegSize> jpeg_size(std::string_view bytes) {
  if (bytes.size() < 4 || !is_marker(bytes, 0, kStartOfImage)) return std::nullopt;
  if (!is_marker(bytes, bytes.size() - 2, kEndOfImage)) return std::nullopt;
  for (std::size_t at = 2; at + 4 <= bytes.size();) {
    if (byte_at(bytes, at) != 0xFF) return std::nullopt;
    const unsigned marker = byte_at(bytes, at + 1);
    if (marker == 0xFF) {  // fill bytes may stand before a marker
      ++at;
      continue;
    }
    if (marker == kStartOfScan) return std::nullopt;
    if (is_frame(marker)) return frame_size(bytes, at + 2);
    const unsigned length = word_at(bytes, at + 2);
    if (length < 2) return std::nullopt;
    at += 2 + length;
  }
  return std::nullopt;
}

}  // namespace loadlight::render
