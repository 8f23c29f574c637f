#include "vision/picture_formats.h"

#include <array>
#include <cstdlib>
#include <optional>

namespace loadlight::vision {

// PNG (W3C, ISO/IEC 15948): an 8-byte mark, then chunks = length(4, big-endian) type(4) data checksum(4),
// IHDR first, IEND last.

bool is_png(const ByteView& bytes) {
  return bytes.says(0, "\x89PNG\r\n\x1a\n");
}

PictureHeader png_header(const ByteView& bytes) {
  PictureHeader header;
  header.width = bytes.be32(16);
  header.height = bytes.be32(20);
  header.has_alpha = (bytes.u8(25) & 4) != 0;  // colour types 4 and 6
  for (std::uint64_t at = 8; bytes.has(at, 12);) {
    const std::uint64_t length = bytes.be32(at);
    if (!bytes.has(at, length + 12)) break;
    if (bytes.says(at + 4, "tRNS")) header.has_alpha = true;
    if (bytes.says(at + 4, "IEND")) header.whole = true;
    at += length + 12;
  }
  return header;
}

// JPEG (ITU-T T.81, B.1): segments = 0xFF marker length(2, big-endian, counts itself) data; after a scan's
// header its coded bytes, in which 0xFF is followed by 0 or a restart marker; EOI ends the picture.

namespace {

constexpr std::uint32_t kStartOfImage = 0xD8;
constexpr std::uint32_t kEndOfImage = 0xD9;

bool starts_frame(std::uint32_t marker) {
  return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}
bool is_restart(std::uint32_t marker) {
  return marker >= 0xD0 && marker <= 0xD7;
}
bool stands_alone(std::uint32_t marker) {
  return marker == 0x01 || is_restart(marker) || marker == kStartOfImage;
}

// The next place at or after `at` where a marker other than a restart stands; the size if there is none.
std::uint64_t next_marker(const ByteView& bytes, std::uint64_t at) {
  for (; at + 1 < bytes.size(); ++at) {
    if (bytes.u8(at) != 0xFF) continue;
    const auto marker = bytes.u8(at + 1);
    if (marker != 0 && marker != 0xFF && !is_restart(marker)) return at;
  }
  return bytes.size();
}

}  // namespace

bool is_jpeg(const ByteView& bytes) {
  return bytes.says(0, "\xFF\xD8\xFF");
}

PictureHeader jpeg_header(const ByteView& bytes) {
  PictureHeader header;
  for (std::uint64_t at = next_marker(bytes, 0); bytes.has(at, 2); at = next_marker(bytes, at)) {
    const auto marker = bytes.u8(at + 1);
    if (marker == kEndOfImage) {
      header.whole = true;
      break;
    }
    if (starts_frame(marker)) {
      header.height = bytes.be16(at + 5);
      header.width = bytes.be16(at + 7);
    }
    at += stands_alone(marker) ? 2 : 2 + std::uint64_t{bytes.be16(at + 2)};
  }
  return header;
}

// WebP (RFC 9649): RIFF size(4, little-endian) WEBP, then chunks = type(4) length(4) data, padded to even.

bool is_webp(const ByteView& bytes) {
  return bytes.says(0, "RIFF") && bytes.says(8, "WEBP");
}

PictureHeader webp_header(const ByteView& bytes) {
  constexpr std::uint32_t kAnimation = 0x02;
  constexpr std::uint32_t kAlpha = 0x10;
  PictureHeader header;
  header.whole = bytes.size() >= 30 && bytes.has(8, bytes.le32(4));
  if (bytes.says(12, "VP8X")) {
    header.animated = (bytes.u8(20) & kAnimation) != 0;
    header.has_alpha = (bytes.u8(20) & kAlpha) != 0;
    header.width = bytes.le24(24) + 1;
    header.height = bytes.le24(27) + 1;
  } else if (bytes.says(12, "VP8L")) {
    const auto bits = bytes.le32(21);
    header.width = (bits & 0x3FFF) + 1;
    header.height = (bits >> 14 & 0x3FFF) + 1;
    header.has_alpha = (bits >> 28 & 1) != 0;
  } else if (bytes.says(12, "VP8 ")) {
    header.width = bytes.le16(26) & 0x3FFF;
    header.height = bytes.le16(28) & 0x3FFF;
  }
  return header;
}

// TIFF (revision 6.0): byte order(2) 42(2) place of the directory(4); the directory = count(2) and entries
// = tag(2) type(2) count(4) value or its place(4), and the place of the next directory(4).

namespace {

class TiffDirectory final {
 public:
  explicit TiffDirectory(const ByteView& bytes) : bytes_(bytes), little_(bytes.says(0, "II")), at_(u32(4)) {}

  // The directory and every value that it lists.
  bool whole() const {
    const std::uint64_t entries = u16(at_);
    if (!bytes_.has(at_, 2 + 12 * entries + 4)) return false;
    for (std::uint64_t i = 0; i < entries; ++i) {
      const auto entry = at_ + 2 + 12 * i;
      const auto length = value_size(u16(entry + 2)) * u32(entry + 4);
      if (length > 4 && !bytes_.has(u32(entry + 8), length)) return false;
    }
    return true;
  }

  // The i-th value of a tag; 0 when it has none.
  std::uint64_t value(std::uint32_t tag, std::uint64_t i = 0) const {
    const auto entry = entry_of(tag);
    if (!entry || i >= u32(*entry + 4)) return 0;
    const std::uint64_t width = u16(*entry + 2) == kShort ? 2 : 4;
    const std::uint64_t start = width * u32(*entry + 4) <= 4 ? *entry + 8 : u32(*entry + 8);
    return width == 2 ? u16(start + 2 * i) : u32(start + 4 * i);
  }

  std::uint64_t count(std::uint32_t tag) const {
    const auto entry = entry_of(tag);
    return entry ? u32(*entry + 4) : 0;
  }

 private:
  static constexpr std::uint32_t kShort = 3;

  // Bytes of one value of a type (TIFF 6.0, section 2); 1 for types it does not know.
  static std::uint64_t value_size(std::uint32_t type) {
    constexpr std::array<std::uint64_t, 13> kSizes{1, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8};
    return type < kSizes.size() ? kSizes[type] : 1;
  }

  std::uint32_t u16(std::uint64_t at) const { return little_ ? bytes_.le16(at) : bytes_.be16(at); }
  std::uint32_t u32(std::uint64_t at) const { return little_ ? bytes_.le32(at) : bytes_.be32(at); }

  std::optional<std::uint64_t> entry_of(std::uint32_t tag) const {
    for (std::uint64_t i = 0; i < u16(at_); ++i) {
      if (u16(at_ + 2 + 12 * i) == tag) return at_ + 2 + 12 * i;
    }
    return std::nullopt;
  }

  const ByteView& bytes_;
  bool little_;
  std::uint64_t at_;
};

// Every strip or tile that the directory lists lies within the file.
bool holds_its_pieces(const ByteView& bytes, const TiffDirectory& directory) {
  constexpr std::uint32_t kStripOffsets = 273, kStripSizes = 279, kTileOffsets = 324, kTileSizes = 325;
  const bool tiled = directory.count(kTileOffsets) > 0;
  const auto offsets = tiled ? kTileOffsets : kStripOffsets;
  const auto sizes = tiled ? kTileSizes : kStripSizes;
  const auto pieces = directory.count(offsets);
  if (pieces == 0 || pieces > bytes.size()) return false;
  for (std::uint64_t i = 0; i < pieces; ++i) {
    if (!bytes.has(directory.value(offsets, i), directory.value(sizes, i))) return false;
  }
  return true;
}

}  // namespace

bool is_tiff(const ByteView& bytes) {
  return bytes.says(0, std::string_view("II*\0", 4)) || bytes.says(0, std::string_view("MM\0*", 4));
}

PictureHeader tiff_header(const ByteView& bytes) {
  constexpr std::uint32_t kWidth = 256, kHeight = 257, kExtraSamples = 338;
  const TiffDirectory directory(bytes);
  PictureHeader header;
  header.whole = directory.whole() && holds_its_pieces(bytes, directory);
  if (!header.whole) return header;
  header.width = directory.value(kWidth);
  header.height = directory.value(kHeight);
  header.has_alpha = directory.count(kExtraSamples) > 0;
  return header;
}

// BMP: BM size(4) 0(4) place of the pixels(4), then a header that begins with its own length; the oldest
// has 16-bit sizes; a negative height means top row first. All little-endian.

bool is_bmp(const ByteView& bytes) {
  return bytes.says(0, "BM");
}

PictureHeader bmp_header(const ByteView& bytes) {
  constexpr std::uint32_t kOldest = 12;
  const bool oldest = bytes.le32(14) == kOldest;
  PictureHeader header;
  header.width = oldest ? bytes.le16(18) : bytes.le32(18);
  header.height =
      oldest ? bytes.le16(20)
             : static_cast<std::uint64_t>(std::abs(std::int64_t{static_cast<std::int32_t>(bytes.le32(22))}));
  const std::uint64_t bits = oldest ? bytes.le16(24) : bytes.le16(28);
  const bool packed = !oldest && (bytes.le32(30) == 1 || bytes.le32(30) == 2);
  const std::uint64_t row = (header.width * bits + 31) / 32 * 4;
  header.whole =
      bytes.size() >= 26 && (packed || header.height == 0 ||
                             (row <= bytes.size() && bytes.has(bytes.le32(10), row * header.height)));
  return header;
}

// Netpbm: "P1" to "P6", then width, height and (but for P1 and P4) the largest level, in decimal, with white
// space and comments (# to the line's end) between; P4 to P6 then one white space and the pixels in bytes.

namespace {

class NetpbmNumbers final {
 public:
  explicit NetpbmNumbers(const ByteView& bytes) : bytes_(bytes) {}

  std::uint64_t next() {
    skip_blanks();
    std::uint64_t number = 0;
    for (; is_digit(bytes_.u8(at_)); ++at_) {
      if (number < 1'000'000'000) number = number * 10 + (bytes_.u8(at_) - '0');
    }
    return number;
  }

  std::uint64_t at() const { return at_; }

 private:
  static bool is_digit(std::uint32_t byte) { return byte >= '0' && byte <= '9'; }

  void skip_blanks() {
    bool in_comment = false;
    for (; at_ < bytes_.size(); ++at_) {
      const auto byte = bytes_.u8(at_);
      if (byte == '#') in_comment = true;
      if (byte == '\n') in_comment = false;
      if (!in_comment && byte != '\n' && byte != ' ' && byte != '\t' && byte != '\r') return;
    }
  }

  const ByteView& bytes_;
  std::uint64_t at_ = 2;
};

std::uint64_t netpbm_row(char kind, std::uint64_t width, std::uint64_t largest) {
  const std::uint64_t wide = largest > 255 ? 2 : 1;
  if (kind == '4') return (width + 7) / 8;
  if (kind == '5') return width * wide;
  if (kind == '6') return width * wide * 3;
  return width;  // in text: at least a character a sample
}

}  // namespace

bool is_pnm(const ByteView& bytes) {
  const auto kind = bytes.u8(1);
  const auto after = bytes.u8(2);
  return bytes.u8(0) == 'P' && kind >= '1' && kind <= '6' &&
         (after == '\n' || after == ' ' || after == '\t' || after == '\r' || after == '#');
}

PictureHeader pnm_header(const ByteView& bytes) {
  const char kind = static_cast<char>(bytes.u8(1));
  NetpbmNumbers numbers(bytes);
  PictureHeader header;
  header.width = numbers.next();
  header.height = numbers.next();
  const auto largest = kind == '1' || kind == '4' ? 1 : numbers.next();
  const auto row = netpbm_row(kind, header.width, largest);
  header.whole =
      header.height == 0 || (row <= bytes.size() && bytes.has(numbers.at() + 1, row * header.height));
  return header;
}

}  // namespace loadlight::vision
