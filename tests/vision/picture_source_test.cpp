// Picture files that are what they should be.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"
#include "vision/written_pictures.h"

namespace loadlight::vision_tests {
namespace {

constexpr char kText[] = "LL1.PICTURE";

// 300 x 220, the symbol left of the middle and above it.
cv::Mat label_picture() {
  cv::Mat picture(220, 300, CV_8UC1, cv::Scalar(230));
  const cv::Mat symbol = enlarged(drawn_symbol(kText, 1, Level::M), 5, 4);
  symbol.copyTo(picture(cv::Rect({20, 15}, symbol.size())));
  return picture;
}

cv::Mat in_colour(const cv::Mat& gray) {
  cv::Mat colour;
  cv::cvtColor(gray, colour, cv::COLOR_GRAY2BGR);
  return colour;
}

cv::Mat deepened(const cv::Mat& picture) {
  cv::Mat deep;
  picture.convertTo(deep, CV_16U, 257);
  return deep;
}

std::vector<port::SymbolSighting> read_bytes(const Bytes& bytes) {
  const auto picture = vision::make_picture_source()->decode(bytes);
  REQUIRE(picture.ok());
  return vision::make_symbol_reader()->read(picture->view());
}

void check_reads(const Bytes& bytes) {
  REQUIRE(!bytes.empty());
  const auto found = read_bytes(bytes);
  REQUIRE(found.size() == 1);
  CHECK(found[0].text == kText);
}

}  // namespace

TEST_CASE("Every format is read, in grey and in colour") {
  const cv::Mat gray = label_picture();
  for (const auto* extension : {".png", ".jpg", ".webp", ".tiff", ".bmp", ".pgm"}) {
    INFO(extension);
    check_reads(encoded(extension, gray));
  }
  for (const auto* extension : {".png", ".jpg", ".webp", ".tiff", ".bmp", ".ppm"}) {
    INFO(extension);
    check_reads(encoded(extension, in_colour(gray)));
  }
  check_reads(encoded(".pgm", gray, {cv::IMWRITE_PXM_BINARY, 0}));
  check_reads(encoded(".pbm", gray > 128));
  check_reads(encoded(".jpg", gray, {cv::IMWRITE_JPEG_PROGRESSIVE, 1}));
}

TEST_CASE("Sixteen bits a sample are narrowed to eight") {
  const cv::Mat gray = label_picture();
  for (const auto* extension : {".png", ".tiff", ".pgm"}) {
    INFO(extension);
    const auto bytes = encoded(extension, deepened(gray));
    check_reads(bytes);
    const auto picture = vision::make_picture_source()->decode(bytes);
    CHECK(std::abs(picture->pixels[0] - 230) <= 1);
  }
  check_reads(encoded(".png", deepened(in_colour(gray))));
  check_reads(encoded(".tiff", deepened(in_colour(gray))));
}

TEST_CASE("A JPEG in CMYK is read") {
  check_reads(cmyk_jpeg(enlarged(drawn_symbol(kText, 1, Level::M), 1, 4)));
}

TEST_CASE("Transparency is laid on white") {
  // Black ink, all else transparent and black too: as programs store symbols without a ground.
  const cv::Mat symbol = enlarged(drawn_symbol(kText, 1, Level::M), 5, 4);
  cv::Mat clear(symbol.size(), CV_8UC4, cv::Scalar(0, 0, 0, 0));
  clear.setTo(cv::Scalar(0, 0, 0, 255), symbol == 0);
  check_reads(encoded(".png", clear));
  check_reads(encoded(".png", deepened(clear)));
  check_reads(encoded(".webp", clear, {cv::IMWRITE_WEBP_QUALITY, 101}));
}

TEST_CASE("A photo is turned upright by each of the eight EXIF orientations, and corners count after that") {
  const cv::Mat upright = label_picture();
  const double left = 20 + 4 * 5;
  const double top = 15 + 4 * 5;
  for (int orientation = 1; orientation <= 8; ++orientation) {
    INFO(orientation);
    const auto found =
        read_bytes(with_orientation(encoded(".jpg", stored_for(upright, orientation)), orientation));
    REQUIRE(found.size() == 1);
    CHECK(found[0].text == kText);
    CHECK(std::abs(found[0].corners[0].x - left) < 5);
    CHECK(std::abs(found[0].corners[0].y - top) < 5);
    CHECK(std::abs(found[0].corners[2].x - left - 105) < 5);
    CHECK(std::abs(found[0].corners[2].y - top - 105) < 5);
  }
  for (const int nonsense : {0, 9, 65535}) check_reads(with_orientation(encoded(".jpg", upright), nonsense));
}

TEST_CASE("Of an animation the first frame is read") {
  const cv::Mat blank(220, 300, CV_8UC3, cv::Scalar::all(255));
  check_reads(animated_webp({in_colour(label_picture()), blank, blank}));
}

TEST_CASE("A file is read like its bytes") {
  const auto path = std::filesystem::temp_directory_path() / "loadlight picture \xC3\xA9.png";
  const auto bytes = encoded(".png", label_picture());
  std::ofstream(path, std::ios::binary)
      .write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
  const auto picture = vision::make_picture_source()->read_file(path.string());
  std::filesystem::remove(path);
  REQUIRE(picture.ok());
  CHECK(picture->width == 300);
  CHECK(picture->height == 220);
  CHECK(picture->pixels.size() == 300u * 220u);
}

}  // namespace loadlight::vision_tests
