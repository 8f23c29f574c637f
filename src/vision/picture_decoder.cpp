#include "vision/picture_decoder.h"

#include <climits>
#include <exception>
#include <opencv2/imgcodecs.hpp>
#include <string>
#include <vector>

#include "vision/gray_mat.h"
#include "vision/picture_header.h"
#include "vision/quiet_libraries.h"
#include "vision/webp_first_frame.h"

namespace loadlight::vision {
namespace {

// Transparency is looked at only in pictures of at most this many pixels: it takes four or eight bytes each.
constexpr std::uint64_t kLargestWithAlpha = 40'000'000;
constexpr std::uint64_t kLongestSide = 1 << 20;  // OpenCV's own limit

core::Failure too_large(const PictureHeader& header) {
  return {core::FailureCode::ImageTooLarge,
          {{"width", std::to_string(header.width)},
           {"height", std::to_string(header.height)},
           {"megapixels", std::to_string(port::kMostPicturePixels / 1'000'000)}},
          {}};
}

bool is_too_large(const PictureHeader& header) {
  return header.width > kLongestSide || header.height > kLongestSide ||
         header.width * header.height > port::kMostPicturePixels;
}

cv::Mat mat_over_bytes(std::span<const std::uint8_t> bytes) {
  return {1, static_cast<int>(bytes.size()), CV_8UC1, const_cast<std::uint8_t*>(bytes.data())};
}

port::GrayPicture decode_still(const PictureHeader& header, std::span<const std::uint8_t> bytes) {
  const QuietLibraries quiet;
  const bool with_alpha = header.has_alpha && header.width * header.height <= kLargestWithAlpha;
  const int how = with_alpha ? cv::IMREAD_UNCHANGED : cv::IMREAD_GRAYSCALE;
  const cv::Mat mat = cv::imdecode(mat_over_bytes(bytes), how);
  return mat.empty() ? port::GrayPicture{} : gray_picture(mat);
}

core::Result<port::GrayPicture> decode_checked(std::span<const std::uint8_t> bytes) {
  const auto header = read_header(bytes);
  if (!header) return header.failure();
  if (is_too_large(*header)) return too_large(*header);
  if (header->animated) return decode_checked(webp_first_frame(bytes));
  try {
    auto picture = decode_still(*header, bytes);
    if (picture.pixels.empty()) return unreadable_picture("damaged");
    return picture;
  } catch (const std::bad_alloc&) {
    return too_large(*header);
  }
}

}  // namespace

core::Result<port::GrayPicture> decode_picture(std::span<const std::uint8_t> bytes) {
  if (bytes.size() > INT_MAX) return unreadable_picture("damaged");
  try {
    return decode_checked(bytes);
  } catch (const std::exception&) {
    return unreadable_picture("damaged");
  }
}

}  // namespace loadlight::vision
