#include "vision/finder_spots.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"
#include "vision/symbol_places.h"

namespace loadlight::vision_tests {
namespace {

cv::Mat on_paper(int module) {
  const cv::Mat symbol = enlarged(drawn_symbol("LL1.FINDERS", 2, Level::M), module, 0);
  cv::Mat paper(symbol.rows * 3, symbol.cols * 3, CV_8UC1, cv::Scalar(220));
  symbol.copyTo(paper(cv::Rect({symbol.cols, symbol.rows}, symbol.size())));
  return paper;
}

}  // namespace

TEST_CASE(
    "The three finders of a symbol are found at modules of 2 to 30 pixels, and their symbol's outline") {
  for (const int module : {2, 3, 5, 9, 14, 20, 30}) {
    INFO(module);
    const cv::Mat paper = on_paper(module);
    const auto spots = vision::find_finder_spots(view_of(paper));
    const double side = 25.0 * module;
    for (const auto& [x, y] : {std::pair{3.5, 3.5}, {21.5, 3.5}, {3.5, 21.5}}) {
      const auto near = [&, ax = x, ay = y](const vision::FinderSpot& spot) {
        return std::hypot(spot.centre.x - side - ax * module, spot.centre.y - side - ay * module) <
                   1.5 * module &&
               spot.module > 0.6 * module && spot.module < 1.6 * module;
      };
      CHECK(std::any_of(spots.begin(), spots.end(), near));
    }
    const auto places = vision::likely_places(spots, 1);
    REQUIRE(places.size() == 1);
    CHECK(std::abs(vision::centre_of(places[0]).x - 1.5 * side) < 2 * module);
    CHECK(std::abs(vision::mean_side(places[0]) - side) < 4 * module);
  }
}

TEST_CASE("Finders are found at any turn") {
  for (int degrees = 0; degrees < 90; degrees += 15) {
    INFO(degrees);
    const cv::Mat paper = on_paper(6);
    cv::Mat turned;
    const cv::Point2f middle(static_cast<float>(paper.cols) / 2, static_cast<float>(paper.rows) / 2);
    cv::warpAffine(paper, turned, cv::getRotationMatrix2D(middle, degrees, 1), paper.size(), cv::INTER_LINEAR,
                   cv::BORDER_REPLICATE);
    CHECK(vision::likely_places(vision::find_finder_spots(view_of(turned)), 1).size() == 1);
  }
}

TEST_CASE("A flat picture has no finders, and noise makes no more than the limit") {
  cv::Mat noise(800, 1000, CV_8UC1, cv::Scalar(90));
  CHECK(vision::find_finder_spots(view_of(noise)).empty());
  cv::RNG rng(47000);
  rng.fill(noise, cv::RNG::UNIFORM, 0, 256);
  CHECK(vision::find_finder_spots(view_of(noise)).size() <= 600);
}

}  // namespace loadlight::vision_tests
