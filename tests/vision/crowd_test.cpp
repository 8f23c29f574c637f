// Many symbols in one picture.
#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <iostream>
#include <map>
#include <opencv2/imgproc.hpp>
#include <string>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"
#include "vision/modelled_shelf.h"
#include "vision/plain_reader.h"
#include "vision/pouch_art.h"

namespace loadlight::vision_tests {
namespace {

// Each row: labels laid out in a frame, and how many are read at least. The floors may only rise.
struct Crowd final {
  const char* name;
  int columns;
  int rows;
  cv::Size frame;
  double module;  // pixels
  int floor;
};
const Crowd kCrowds[] = {
    {"A4 sheet of 24 at 300 dpi", 3, 8, {2480, 3508}, 5.5, 24},
    {"A4 sheet of 24 at 200 dpi", 3, 8, {1654, 2339}, 3.7, 24},
    {"4K frame of 80 labels", 8, 10, {3840, 2160}, 3.2, 80},
    {"4K frame of 80 labels, small", 8, 10, {3840, 2160}, 2.3, 79},
};

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void print(const Crowd& crowd, std::size_t ours, std::size_t plain, double our_time, double plain_time) {
  std::cout << crowd.name << ": read " << ours << " of " << crowd.columns * crowd.rows << ", plain ZXing "
            << plain << ", time against plain ZXing " << our_time / plain_time << "\n";
}

void read_crowd(const Crowd& crowd, std::uint64_t seed) {
  cv::RNG rng(seed);
  Harms harms;
  harms.module = crowd.module;
  harms.tilt = 5;
  const auto view = shelf_view(crowd.columns, crowd.rows, harms, rng, crowd.frame);
  const auto reader = vision::make_symbol_reader();
  const auto start = std::chrono::steady_clock::now();
  const auto ours = reader->read(view_of(view.gray));
  const double our_time = seconds_since(start);
  const auto again = std::chrono::steady_clock::now();
  const auto theirs = plain_zxing(view_of(view.gray));
  print(crowd, ours.size(), theirs.size(), our_time, seconds_since(again));

  std::map<std::string, int> times;
  for (const auto& sighting : ours) ++times[sighting.text];
  int known = 0;
  for (const auto& symbol : view.symbols) known += times[symbol.text] == 1;
  CHECK(known >= crowd.floor);
  CHECK(static_cast<int>(ours.size()) == known);  // each once, none wrong
  CHECK(ours.size() >= theirs.size());
}

}  // namespace

TEST_CASE("Of a dense sheet or shelf every label is read, and each once") {
  for (const auto& crowd : kCrowds) read_crowd(crowd, 42000);
}

TEST_CASE("A clean sheet is listed top to bottom and left to right") {
  cv::RNG rng(8);
  cv::Mat sheet(3508, 2480, CV_8UC1, cv::Scalar(255));
  std::vector<std::string> texts;
  for (int i = 0; i < 24; ++i) {
    texts.push_back(label_like_text(rng));
    const cv::Mat symbol = enlarged(label_like_symbol(texts.back(), rng), 6, 4);
    symbol.copyTo(sheet(cv::Rect({100 + i % 3 * 800, 60 + i / 3 * 430 + i % 3 * 9}, symbol.size())));
  }
  std::vector<std::string> read;
  for (const auto& sighting : vision::make_symbol_reader()->read(view_of(sheet)))
    read.push_back(sighting.text);
  CHECK(read == texts);
}

TEST_CASE("Two symbols with one text side by side are two sightings") {
  const cv::Mat symbol = enlarged(drawn_symbol("LL1.SAME", 2, Level::M), 5, 4);
  cv::Mat pair;
  cv::hconcat(symbol, symbol, pair);
  CHECK(vision::make_symbol_reader()->read(view_of(pair)).size() == 2);
}

TEST_CASE("Beside one symbol in clear sight a second one, dim and blurred, is read too") {
  cv::RNG rng(9);
  const auto clear = label_like_text(rng);
  const auto dim = label_like_text(rng);
  cv::Mat picture(700, 1400, CV_8UC1, cv::Scalar(210));
  const cv::Mat first = enlarged(label_like_symbol(clear, rng), 6, 4);
  cv::Mat second = enlarged(label_like_symbol(dim, rng), 5, 4);
  cv::GaussianBlur(second, second, {}, 2.0);
  second = second * 0.12 + 160;
  first.copyTo(picture(cv::Rect({80, 100}, first.size())));
  second.copyTo(picture(cv::Rect({800, 150}, second.size())));
  const auto plain = plain_zxing(view_of(picture));
  const auto found = vision::make_symbol_reader()->read(view_of(picture));
  std::cout << "clear and dim symbol: read " << found.size() << ", plain ZXing " << plain.size() << "\n";
  REQUIRE(found.size() == 2);
  CHECK(found[0].text == clear);
  CHECK(found[1].text == dim);
}

// The floor may only rise.
TEST_CASE("Of a hard shelf at least the floor is read, none wrong") {
  constexpr double kDifficulty = 0.6;
  constexpr int kFloor = 78;  // of 80
  cv::RNG rng(43000);
  const auto shelf = modelled_shelf({kDifficulty, 80, {3840, 2160}, 2, 4, 2}, rng);
  cv::Mat gray;
  cv::cvtColor(shelf_frame(shelf, kDifficulty, rng), gray, cv::COLOR_BGR2GRAY);
  int known = 0;
  const auto ours = vision::make_symbol_reader()->look(view_of(gray), {std::chrono::minutes(1)}).read;
  for (const auto& sighting : ours) {
    known += std::any_of(shelf.labels.begin(), shelf.labels.end(),
                         [&](const auto& label) { return label.text == sighting.text; });
  }
  std::cout << "hard shelf: read " << known << " of " << shelf.labels.size() << "\n";
  CHECK(known >= kFloor);
  CHECK(static_cast<int>(ours.size()) == known);
}

// A large symbol beside a label, in a picture of twelve megapixels; the corners of two of its finders are worn
// off, so that hardly one is seen whole.
struct Beside final {
  cv::Mat picture;
  std::vector<std::string> texts;
};

Beside large_symbol_beside_label(int version, int module) {
  cv::RNG rng(static_cast<std::uint64_t>(version));
  Beside made{cv::Mat(3000, 4000, CV_8UC1, cv::Scalar(205)), {label_like_text(rng)}};
  made.texts.push_back(std::string(static_cast<std::size_t>(8 * version), 'x') + std::to_string(version));
  cv::Mat modules = drawn_symbol(made.texts.back(), version, Level::M);
  modules(cv::Rect(modules.cols - 1, 0, 1, 1)) = 255;
  modules(cv::Rect(0, modules.rows - 1, 1, 1)) = 255;
  const cv::Mat large = enlarged(modules, module, 4);
  const cv::Mat label = enlarged(label_like_symbol(made.texts.front(), rng), 5, 4);
  label.copyTo(made.picture(cv::Rect({300, 300}, label.size())));
  large.copyTo(made.picture(cv::Rect({1900, 1300}, large.size())));
  return made;
}

TEST_CASE("Beside a label that was read a large symbol with worn finders is read too") {
  for (const int version : {12, 16, 20, 30}) {
    for (const int module : {4, 8}) {
      const auto made = large_symbol_beside_label(version, module);
      std::vector<std::string> read;
      for (const auto& sighting : vision::make_symbol_reader()->read(view_of(made.picture)))
        read.push_back(sighting.text);
      INFO("version " << version << ", pixels a module " << module);
      CHECK(read == made.texts);
    }
  }
}

}  // namespace loadlight::vision_tests
