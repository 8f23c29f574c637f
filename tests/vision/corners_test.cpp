// Where symbols are said to be, against where they were drawn.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <iostream>
#include <opencv2/imgproc.hpp>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"

namespace loadlight::vision_tests {
namespace {

// Largest distance of a corner from the true one, pixels, each compared with its own.
double worst_corner(const std::array<port::PixelPoint, 4>& found,
                    const std::array<port::PixelPoint, 4>& real) {
  double worst = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    worst = std::max(worst, std::hypot(found[i].x - real[i].x, found[i].y - real[i].y));
  }
  return worst;
}

port::PixelPoint turned_quarter(port::PixelPoint point, int old_height) {
  return {old_height - point.y, point.x};
}

}  // namespace

TEST_CASE("Corners lie within a module and a half of the true ones, in the order of the symbol's own sides") {
  const auto reader = vision::make_symbol_reader();
  double worst = 0;
  int read = 0;
  for (std::uint64_t seed = 43000; seed < 43060; ++seed) {
    cv::RNG rng(seed);
    Harms harms;
    harms.module = rng.uniform(3.0, 6.0);
    harms.turn = rng.uniform(0.0, 360.0);
    harms.tilt = rng.uniform(0.0, 30.0);
    const auto view = pouch_view(harms, rng);
    const auto found = reader->read(view_of(view.gray));
    if (found.size() != 1) continue;
    ++read;
    worst = std::max(worst, worst_corner(found[0].corners, view.symbols[0].corners) / view.symbols[0].module);
  }
  std::cout << "corners: " << read << " symbols, worst corner " << worst << " modules off\n";
  CHECK(read >= 58);
  CHECK(worst <= 1.5);
}

TEST_CASE("The first corner stays the symbol's own top left under all four quarter turns") {
  cv::Mat picture(400, 600, CV_8UC1, cv::Scalar(255));
  const cv::Mat symbol = enlarged(drawn_symbol("TURN ME", 2, Level::M), 6, 0);
  symbol.copyTo(picture(cv::Rect({120, 90}, symbol.size())));
  const double side = symbol.cols;
  std::array<port::PixelPoint, 4> real{
      {{120, 90}, {120 + side, 90}, {120 + side, 90 + side}, {120, 90 + side}}};
  for (int quarter = 0; quarter < 4; ++quarter) {
    const auto found = vision::make_symbol_reader()->read(view_of(picture));
    REQUIRE(found.size() == 1);
    CHECK(worst_corner(found[0].corners, real) <= 6);
    for (auto& corner : real) corner = turned_quarter(corner, picture.rows);
    cv::Mat turned;
    cv::rotate(picture, turned, cv::ROTATE_90_CLOCKWISE);
    picture = turned;
  }
}

}  // namespace loadlight::vision_tests
