#include "vision/written_pictures.h"

#include <opencv2/imgcodecs.hpp>

namespace loadlight::vision_tests {
namespace {

void put(Bytes& bytes, std::initializer_list<int> values) {
  for (const int value : values) bytes.push_back(static_cast<std::uint8_t>(value));
}
void put(Bytes& bytes, const std::string& text) {
  bytes.insert(bytes.end(), text.begin(), text.end());
}
void put(Bytes& bytes, const Bytes& more) {
  bytes.insert(bytes.end(), more.begin(), more.end());
}
void put_be32(Bytes& bytes, std::uint32_t n) {
  put(bytes, {static_cast<int>(n >> 24), static_cast<int>(n >> 16 & 255), static_cast<int>(n >> 8 & 255),
              static_cast<int>(n & 255)});
}
void put_le(Bytes& bytes, std::size_t n, int width) {
  for (int i = 0; i < width; ++i) bytes.push_back(static_cast<std::uint8_t>(n >> (8 * i) & 255));
}

// Coded bits of a scan, with a zero byte stuffed after every 0xFF (ITU-T T.81, B.1.1.5).
class ScanBits final {
 public:
  void put(std::uint32_t bits, int count) {
    for (int i = count - 1; i >= 0; --i) {
      byte_ = byte_ << 1 | (bits >> i & 1);
      if (++filled_ == 8) flush();
    }
  }
  Bytes finish() {
    while (filled_ != 0) put(1, 1);
    return bytes_;
  }

 private:
  void flush() {
    bytes_.push_back(static_cast<std::uint8_t>(byte_ & 255));
    if ((byte_ & 255) == 255) bytes_.push_back(0);
    byte_ = 0;
    filled_ = 0;
  }
  Bytes bytes_;
  std::uint32_t byte_ = 0;
  int filled_ = 0;
};

// A block's mean as the difference from the one before: its size in a code of 4 bits, then the bits (T.81,
// F.1.2.1).
void put_mean(ScanBits& scan, int difference) {
  int size = 0;
  while (std::abs(difference) >> size != 0) ++size;
  scan.put(static_cast<std::uint32_t>(size), 4);
  const int bits = difference < 0 ? difference + (1 << size) - 1 : difference;
  scan.put(static_cast<std::uint32_t>(bits), size);
  scan.put(0, 1);  // the end of the block: the only code of the other table
}

Bytes scan_of(const cv::Mat& gray) {
  ScanBits scan;
  std::array<int, 4> before{};
  for (int y = 0; y < gray.rows; ++y) {
    for (int x = 0; x < gray.cols; ++x) {
      // No colour in C, M and Y and the rest in K; inverted, 255 is no ink.
      const std::array<int, 4> inks{255, 255, 255, gray.at<std::uint8_t>(y, x)};
      for (std::size_t c = 0; c < 4; ++c) {
        put_mean(scan, inks[c] - 128 - before[c]);
        before[c] = inks[c] - 128;
      }
    }
  }
  return scan.finish();
}

}  // namespace

Bytes encoded(const std::string& extension, const cv::Mat& picture, const std::vector<int>& options) {
  Bytes bytes;
  cv::imencode(extension, picture, bytes, options);
  return bytes;
}

Bytes with_orientation(const Bytes& jpeg, int orientation) {
  // APP1 with one directory of one entry: tag 0x0112, SHORT, 1 value (Exif 2.32, 4.6.4).
  Bytes bytes{0xFF, 0xD8, 0xFF, 0xE1, 0, 34};
  put(bytes, std::string("Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01", 24));
  put(bytes, {orientation >> 8, orientation & 255, 0, 0, 0, 0});
  put(bytes, {0, 0});
  bytes[5] = static_cast<std::uint8_t>(bytes.size() - 4);
  bytes.insert(bytes.end(), jpeg.begin() + 2, jpeg.end());
  return bytes;
}

cv::Mat stored_for(const cv::Mat& upright, int orientation) {
  // Exif 2.32, 4.6.4, Orientation: at which side of the upright picture the stored row 0 and column 0 are
  // seen.
  cv::Mat stored = upright.clone();
  const auto mirror = [&](int code) { cv::flip(stored.clone(), stored, code); };
  const auto turn = [&](int code) { cv::rotate(stored.clone(), stored, code); };
  if (orientation == 2) mirror(1);                                   // top, right
  if (orientation == 3) mirror(-1);                                  // bottom, right
  if (orientation == 4) mirror(0);                                   // bottom, left
  if (orientation == 5) cv::transpose(upright, stored);              // left, top
  if (orientation == 6) turn(cv::ROTATE_90_COUNTERCLOCKWISE);        // right, top
  if (orientation == 7) cv::transpose(upright, stored), mirror(-1);  // right, bottom
  if (orientation == 8) turn(cv::ROTATE_90_CLOCKWISE);               // left, bottom
  return stored;
}

Bytes cmyk_jpeg(const cv::Mat& gray) {
  Bytes bytes{0xFF, 0xD8, 0xFF, 0xEE, 0, 14};
  put(bytes, std::string("Adobe\0\x64\0\0\0\0\0", 12));  // transform 0: CMYK, inverted
  put(bytes, {0xFF, 0xDB, 0, 67, 0});
  put(bytes, Bytes(64, 8));  // means are stored times 8, so a step of 8 leaves them as they are
  put(bytes, {0xFF, 0xC0, 0, 20, 8, gray.rows * 8 >> 8, gray.rows * 8 & 255, gray.cols * 8 >> 8,
              gray.cols * 8 & 255, 4});
  for (int c = 1; c <= 4; ++c) put(bytes, {c, 0x11, 0});
  put(bytes, {0xFF, 0xC4, 0, 31, 0x00, 0, 0, 0, 12, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0});
  for (int size = 0; size < 12; ++size) put(bytes, {size});
  put(bytes, {0xFF, 0xC4, 0, 20, 0x10, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x00});
  put(bytes, {0xFF, 0xDA, 0, 14, 4, 1, 0, 2, 0, 3, 0, 4, 0, 0, 63, 0});
  put(bytes, scan_of(gray));
  put(bytes, {0xFF, 0xD9});
  return bytes;
}

Bytes animated_webp(const std::vector<cv::Mat>& frames) {
  const auto put_size = [](Bytes& bytes, const cv::Mat& frame) {
    put_le(bytes, static_cast<std::size_t>(frame.cols - 1), 3);
    put_le(bytes, static_cast<std::size_t>(frame.rows - 1), 3);
  };
  // RFC 9649: VP8X with the animation flag, ANIM, then an ANMF with the still's picture chunk for each frame.
  Bytes body;
  put(body, std::string("WEBPVP8X\x0a\0\0\0\x02\0\0\0", 16));
  put_size(body, frames.front());
  put(body, std::string("ANIM\x06\0\0\0\xff\xff\xff\xff\0\0", 14));
  for (const auto& frame : frames) {
    const Bytes still = encoded(".webp", frame, {cv::IMWRITE_WEBP_QUALITY, 101});
    const Bytes picture(still.begin() + 12, still.end());
    put(body, "ANMF");
    put_le(body, 16 + picture.size(), 4);
    put(body, Bytes(6, 0));
    put_size(body, frame);
    put_le(body, 100, 3);
    put(body, Bytes(1, 0));
    put(body, picture);
  }
  Bytes bytes;
  put(bytes, "RIFF");
  put_le(bytes, body.size(), 4);
  put(bytes, body);
  return bytes;
}

Bytes png_claiming(std::uint32_t width, std::uint32_t height) {
  Bytes bytes;
  put(bytes, std::string("\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR", 16));
  put_be32(bytes, width);
  put_be32(bytes, height);
  put(bytes, {8, 0, 0, 0, 0, 0, 0, 0, 0});
  put(bytes, std::string("\0\0\0\0IEND\xae\x42\x60\x82", 12));
  return bytes;
}

}  // namespace loadlight::vision_tests
