// zbar (Debian's zbar-tools), a reader that is not ours and not ZXing, over clean pictures: what we read is
// what is there. A missing zbarimg fails the test.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <iostream>
#include <opencv2/imgcodecs.hpp>
#include <set>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"
#include "vision/pouch_art.h"

namespace loadlight::vision_tests {
namespace {

std::set<std::string> zbar_reads(const std::string& path) {
  const std::string command = "zbarimg --raw --quiet -Sdisable -Sqrcode.enable '" + path + "' 2>/dev/null";
  std::FILE* pipe = popen(command.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::set<std::string> lines;
  std::array<char, 512> line{};
  while (std::fgets(line.data(), line.size(), pipe) != nullptr) {
    const std::string text = line.data();
    lines.insert(text.substr(0, text.find('\n')));
  }
  const int status = pclose(pipe);
  REQUIRE(WIFEXITED(status));
  REQUIRE(WEXITSTATUS(status) == 0);  // 127: zbarimg is missing
  return lines;
}

}  // namespace

TEST_CASE("On clean renders our reader and zbar read the same texts") {
  const auto path = (std::filesystem::temp_directory_path() / "loadlight-second-reader.png").string();
  const auto reader = vision::make_symbol_reader();
  cv::RNG rng(46000);
  std::size_t compared = 0;
  for (int i = 0; i < 24; ++i) {
    const auto text = label_like_text(rng);
    const cv::Mat symbol = enlarged(label_like_symbol(text, rng), 3 + i % 5, 4);
    REQUIRE(cv::imwrite(path, symbol));
    std::set<std::string> ours;
    for (const auto& sighting : reader->read(view_of(symbol))) ours.insert(sighting.text);
    CHECK(ours == std::set<std::string>{text});
    CHECK(ours == zbar_reads(path));
    ++compared;
  }
  std::filesystem::remove(path);
  std::cout << "second reader: " << compared << " symbols compared\n";
}

}  // namespace loadlight::vision_tests
