#include "vision/file_picture_source.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "vision/gray_mat.h"
#include "vision/picture_decoder.h"

namespace loadlight::vision {
namespace {

using Bytes = std::vector<std::uint8_t>;

// Bytes. No picture within the pixel limit needs more, unless it is stored plain and in colour.
constexpr std::uintmax_t kLargestFile = 512u << 20;

core::Failure file_unreadable(const std::string& path, const std::string& why) {
  return {core::FailureCode::FileUnreadable, {{"path", path}, {"why", why}}, {}};
}

core::Result<std::uintmax_t> size_of(const std::string& path) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (status.type() == std::filesystem::file_type::not_found) return file_unreadable(path, "absent");
  if (error) return file_unreadable(path, "forbidden");
  if (std::filesystem::is_directory(status)) return file_unreadable(path, "is-folder");
  if (!std::filesystem::is_regular_file(status)) return file_unreadable(path, "not-a-file");
  const auto size = std::filesystem::file_size(path, error);
  if (error) return file_unreadable(path, "forbidden");
  return size;
}

core::Result<Bytes> bytes_of(const std::string& path) {
  const auto size = size_of(path);
  if (!size) return size.failure();
  if (*size > kLargestFile) return file_unreadable(path, "too-large");
  std::ifstream file(path, std::ios::binary);
  if (!file) return file_unreadable(path, "forbidden");
  Bytes bytes(*size);
  file.read(reinterpret_cast<char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
  if (file.gcount() != static_cast<std::streamsize>(bytes.size())) return file_unreadable(path, "cut-short");
  return bytes;
}

core::Failure naming(const std::string& path, core::Failure failure) {
  failure.details.insert(failure.details.begin(), {"path", path});
  return failure;
}

}  // namespace

core::Result<port::GrayPicture> FilePictureSource::read_file(const std::string& path) const {
  try {
    const auto bytes = bytes_of(path);
    if (!bytes) return bytes.failure();
    auto picture = decode(*bytes);
    if (!picture) return naming(path, picture.failure());
    return picture;
  } catch (const std::exception&) {
    return file_unreadable(path, "no-memory");
  }
}

core::Result<port::GrayPicture> FilePictureSource::decode(std::span<const std::uint8_t> bytes) const {
  return decode_picture(bytes);
}

std::string FilePictureSource::jpeg(port::GrayView view, int longest) const {
  constexpr int kQuality = 82;
  if (view.pixels == nullptr || view.width < 1 || view.height < 1 || longest < 1) return {};
  try {
    cv::Mat picture = mat_over(view);
    const double scale = static_cast<double>(longest) / std::max(view.width, view.height);
    if (scale < 1) {
      cv::Mat small;
      cv::resize(picture, small, {}, scale, scale, cv::INTER_AREA);
      picture = small;
    }
    std::vector<std::uint8_t> bytes;
    if (!cv::imencode(".jpg", picture, bytes, {cv::IMWRITE_JPEG_QUALITY, kQuality})) return {};
    return {bytes.begin(), bytes.end()};
  } catch (const std::exception&) {
    return {};
  }
}

}  // namespace loadlight::vision
