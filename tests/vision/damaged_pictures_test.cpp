// Files that are no picture, or not a whole one.
#include <sys/stat.h>
#include <unistd.h>
#include <algorithm>
#include <catch2/catch.hpp>
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

using core::FailureCode;

Bytes bytes_of(const std::string& text) {
  return {text.begin(), text.end()};
}

std::string detail(const core::Failure& failure, const std::string& name) {
  const auto at = std::find_if(failure.details.begin(), failure.details.end(),
                               [&](const auto& detail) { return detail.first == name; });
  return at == failure.details.end() ? "" : at->second;
}

void check_problem(const Bytes& bytes, const std::string& problem) {
  const auto picture = vision::make_picture_source()->decode(bytes);
  REQUIRE(!picture.ok());
  CHECK(picture.failure().code == FailureCode::ImageUnreadable);
  CHECK(detail(picture.failure(), "problem") == problem);
}

void check_too_large(const Bytes& bytes) {
  const auto picture = vision::make_picture_source()->decode(bytes);
  REQUIRE(!picture.ok());
  CHECK(picture.failure().code == FailureCode::ImageTooLarge);
}

cv::Mat noisy_label() {
  cv::RNG rng(45000);
  return pouch_view({}, rng, {320, 240}).bgr;
}

// What lies outside the standard error of this process while one lives.
class CaughtStderr final {
 public:
  CaughtStderr() : kept_(dup(2)), file_(std::tmpfile()) { dup2(fileno(file_), 2); }
  ~CaughtStderr() {
    dup2(kept_, 2);
    close(kept_);
    std::fclose(file_);
  }
  long written() const { return static_cast<long>(lseek(fileno(file_), 0, SEEK_END)); }

 private:
  int kept_;
  std::FILE* file_;
};

}  // namespace

TEST_CASE("A picture cut off anywhere is refused, and no library writes a word about it") {
  const cv::Mat label = noisy_label();
  const CaughtStderr caught;
  for (const auto* extension : {".png", ".jpg", ".webp", ".tiff", ".bmp", ".ppm"}) {
    const auto whole = encoded(extension, label);
    INFO(extension);
    REQUIRE(vision::make_picture_source()->decode(whole).ok());
    for (std::size_t part = 0; part < 60; ++part) {
      // The last cut leaves off two bytes: a WebP's last one may be padding.
      const auto length = part == 59 ? whole.size() - 2 : whole.size() * part / 60;
      const auto picture = vision::make_picture_source()->decode({whole.data(), length});
      INFO(length << " of " << whole.size());
      REQUIRE(!picture.ok());
      CHECK(picture.failure().code == FailureCode::ImageUnreadable);
    }
  }
  CHECK(caught.written() == 0);
}

TEST_CASE("Pictures with bytes changed anywhere yield a picture or a clear refusal") {
  cv::RNG rng(45001);
  const cv::Mat label = noisy_label();
  const CaughtStderr caught;
  for (const auto* extension : {".png", ".jpg", ".webp", ".tiff", ".bmp", ".ppm"}) {
    const auto whole = encoded(extension, label);
    for (int i = 0; i < 150; ++i) {
      auto bytes = whole;
      const int most = i % 2 == 0 ? 100 : static_cast<int>(bytes.size());
      for (int k = 0; k < 1 + i % 7; ++k) {
        bytes[static_cast<std::size_t>(rng.uniform(0, most))] =
            static_cast<std::uint8_t>(rng.uniform(0, 256));
      }
      const auto picture = vision::make_picture_source()->decode(bytes);
      if (picture.ok()) {
        CHECK(picture->pixels.size() ==
              static_cast<std::size_t>(picture->width) * static_cast<std::size_t>(picture->height));
      } else {
        CHECK((picture.failure().code == FailureCode::ImageUnreadable ||
               picture.failure().code == FailureCode::ImageTooLarge));
      }
    }
  }
  CHECK(caught.written() == 0);
}

TEST_CASE("Random bytes, with and without a format's mark before them, are refused") {
  cv::RNG rng(45002);
  const auto marks = {std::string(),
                      std::string("\x89PNG\r\n\x1a\n"),
                      std::string("\xFF\xD8\xFF"),
                      std::string("BM"),
                      std::string("RIFF\x40\0\0\0WEBP", 12),
                      std::string("II*\0", 4),
                      std::string("MM\0*", 4),
                      std::string("P5 "),
                      std::string("P6\n90 90\n255\n")};
  for (const auto& mark : marks) {
    for (int i = 0; i < 40; ++i) {
      auto bytes = bytes_of(mark);
      for (int k = 0; k < 3000; ++k) bytes.push_back(static_cast<std::uint8_t>(rng.uniform(0, 256)));
      CHECK(!vision::make_picture_source()->decode(bytes).ok());
    }
  }
}

TEST_CASE("What is no picture is named") {
  check_problem({}, "empty");
  check_problem(bytes_of("%PDF-1.7\n1 0 obj\n"), "pdf");
  check_problem(bytes_of("\xEF\xBB\xBF\n%PDF-1.4\n"), "pdf");
  check_problem(bytes_of(std::string("\0\0\0\x18"
                                     "ftypheic",
                                     12)),
                "heic");
  check_problem(bytes_of("GIF89a......"), "gif");
  check_problem(bytes_of("package,payload\n"), "unknown-format");
  check_problem(encoded(".png", noisy_label()).size() > 0 ? Bytes{0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'}
                                                          : Bytes{},
                "truncated");
  check_problem(png_claiming(0, 100), "damaged");
  check_problem(png_claiming(100, 100), "damaged");
}

TEST_CASE("A picture of 20,000 pixels a side is refused by its header alone, one within the limit is read") {
  check_too_large(png_claiming(20000, 20000));
  check_too_large(png_claiming(0xFFFFFFFF, 0xFFFFFFFF));
  check_too_large(png_claiming(2'000'000, 10));
  cv::Mat wide(600, 20000, CV_8UC1, cv::Scalar(255));
  const cv::Mat symbol = enlarged(drawn_symbol("WIDE", 1, Level::M), 4, 4);
  symbol.copyTo(wide(cv::Rect({19000, 300}, symbol.size())));
  const auto picture = vision::make_picture_source()->decode(encoded(".png", wide));
  REQUIRE(picture.ok());
  CHECK(vision::make_symbol_reader()->read(picture->view()).size() == 1);
}

TEST_CASE("A file that is absent, a folder, a pipe or forbidden is told from a bad picture") {
  const auto folder = std::filesystem::temp_directory_path() / "loadlight-pictures";
  std::filesystem::create_directories(folder);
  const auto pipe = (folder / "pipe").string();
  const auto forbidden = (folder / "forbidden.png").string();
  mkfifo(pipe.c_str(), 0600);
  std::ofstream(forbidden) << "x";
  std::filesystem::permissions(forbidden, std::filesystem::perms::none);
  const auto problem_of = [](const std::string& path) {
    const auto picture = vision::make_picture_source()->read_file(path);
    REQUIRE(!picture.ok());
    CHECK(detail(picture.failure(), "path") == path);
    return picture.failure().code == FailureCode::FileUnreadable ? detail(picture.failure(), "why")
                                                                 : "picture";
  };
  CHECK(problem_of((folder / "none.png").string()) == "absent");
  CHECK(problem_of(folder.string()) == "is-folder");
  CHECK(problem_of(pipe) == "not-a-file");
  CHECK(problem_of("") == "absent");
  CHECK(problem_of(forbidden) == (geteuid() == 0 ? "picture" : "forbidden"));  // root may read everything
  std::filesystem::remove_all(folder);
}

}  // namespace loadlight::vision_tests
