// Numbers out of bytes that somebody else wrote; anything outside reads as 0.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace loadlight::vision {

class ByteView final {
 public:
  explicit ByteView(std::span<const std::uint8_t> bytes) : bytes_(bytes) {}

  std::uint64_t size() const { return bytes_.size(); }
  bool has(std::uint64_t at, std::uint64_t count) const { return at <= size() && count <= size() - at; }
  std::uint32_t u8(std::uint64_t at) const { return at < size() ? bytes_[at] : 0; }
  std::uint32_t be16(std::uint64_t at) const { return u8(at) << 8 | u8(at + 1); }
  std::uint32_t be32(std::uint64_t at) const { return be16(at) << 16 | be16(at + 2); }
  std::uint32_t le16(std::uint64_t at) const { return u8(at) | u8(at + 1) << 8; }
  std::uint32_t le24(std::uint64_t at) const { return le16(at) | u8(at + 2) << 16; }
  std::uint32_t le32(std::uint64_t at) const { return le16(at) | le16(at + 2) << 16; }

  bool says(std::uint64_t at, std::string_view text) const {
    if (!has(at, text.size())) return false;
    for (std::size_t i = 0; i < text.size(); ++i) {
      if (bytes_[at + i] != static_cast<std::uint8_t>(text[i])) return false;
    }
    return true;
  }

 private:
  std::span<const std::uint8_t> bytes_;
};

}  // namespace loadlight::vision
