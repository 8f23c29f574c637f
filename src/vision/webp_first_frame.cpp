#include "vision/webp_first_frame.h"

#include <optional>
#include <string_view>

#include "vision/byte_view.h"

namespace loadlight::vision {
namespace {

// A chunk = type(4) length(4, little-endian) data, padded to even (RFC 9649).
struct Chunk final {
  std::uint64_t at = 0;    // of its type
  std::uint64_t size = 0;  // with its head and padding
};

std::optional<Chunk> chunk_at(const ByteView& view, std::uint64_t at) {
  if (!view.has(at, 8)) return std::nullopt;
  const std::uint64_t length = view.le32(at + 4);
  const std::uint64_t size = 8 + length + length % 2;
  if (!view.has(at, size)) return std::nullopt;
  return Chunk{at, size};
}

// The first chunk between `from` and `to` that is of either type.
std::optional<Chunk> find_chunk(const ByteView& view, std::uint64_t from, std::uint64_t to,
                                std::string_view type, std::string_view other) {
  for (auto at = from; at < to;) {
    const auto chunk = chunk_at(view, at);
    if (!chunk) return std::nullopt;
    if (view.says(at, type) || view.says(at, other)) return chunk;
    at += chunk->size;
  }
  return std::nullopt;
}

void put(std::vector<std::uint8_t>& bytes, std::string_view text) {
  bytes.insert(bytes.end(), text.begin(), text.end());
}

void put_le32(std::vector<std::uint8_t>& bytes, std::uint64_t number) {
  for (int shift = 0; shift < 32; shift += 8)
    bytes.push_back(static_cast<std::uint8_t>(number >> shift & 0xFF));
}

}  // namespace

std::vector<std::uint8_t> webp_first_frame(std::span<const std::uint8_t> bytes) {
  constexpr std::uint64_t kFrameHead = 8 + 16;  // chunk head; place, size, duration and flags of the frame
  const ByteView view(bytes);
  const auto frame = find_chunk(view, 12, view.size(), "ANMF", "ANMF");
  if (!frame) return {};
  const auto picture = find_chunk(view, frame->at + kFrameHead, frame->at + frame->size, "VP8 ", "VP8L");
  if (!picture) return {};
  std::vector<std::uint8_t> still;
  put(still, "RIFF");
  put_le32(still, 4 + picture->size);
  put(still, "WEBP");
  const auto data = bytes.subspan(picture->at, picture->size);
  still.insert(still.end(), data.begin(), data.end());
  return still;
}

}  // namespace loadlight::vision
