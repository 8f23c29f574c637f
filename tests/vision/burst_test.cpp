// Several shots of one label read together, and what is asked of places that are known.
#include <algorithm>
#include <catch2/catch.hpp>
#include <iostream>
#include <opencv2/imgproc.hpp>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"
#include "vision/modelled_label.h"
#include "vision/place_texture.h"
#include "vision/texture_places.h"

namespace loadlight::vision_tests {
namespace {

std::vector<port::GrayView> views_of(const std::vector<ModelledLabel>& shots) {
  std::vector<port::GrayView> views;
  for (const auto& shot : shots) views.push_back(view_of(shot.gray));
  return views;
}

bool has(const std::vector<port::SymbolSighting>& read, const std::string& text) {
  return std::any_of(read.begin(), read.end(), [&](const auto& symbol) { return symbol.text == text; });
}

core::SymbolGrid grid_of(const LabelTruth& truth) {
  core::SymbolGrid grid{{(truth.side() - 17) / 4, core::ErrorCorrection::M, 0}, {}};
  for (int y = 0; y < truth.side(); ++y) {
    for (int x = 0; x < truth.side(); ++x) grid.modules.push_back(truth.modules.at<std::uint8_t>(y, x) == 0);
  }
  return grid;
}

}  // namespace

// Seeds 61000 to 61011, which nobody tuned with; the floors may only rise.
TEST_CASE("Four shots with a band of 0.25 blown out in each give labels that the first alone does not") {
  constexpr int kBursts = 12;
  constexpr int kFloor = 10;
  const auto reader = vision::make_symbol_reader();
  int together = 0;
  int alone = 0;
  for (int i = 0; i < kBursts; ++i) {
    cv::RNG rng(static_cast<std::uint64_t>(61000 + i));
    LabelHarms harms;
    harms.glare = 0.25;
    const auto shots = modelled_shots(harms, 4, rng);
    const auto read = reader->look(views_of(shots), {}).read;
    together += has(read, shots.front().truth.text);
    alone += has(reader->read(view_of(shots.front().gray)), shots.front().truth.text);
    CHECK(read.size() <= 1);
  }
  std::cout << "bursts with glare: " << together << " of " << kBursts << ", first shots alone " << alone
            << "\n";
  CHECK(together >= kFloor);
  CHECK(together > alone);
}

TEST_CASE("A label that every shot shows is answered once, with its corners in the first") {
  cv::RNG rng(61100);
  const auto shots = modelled_shots(LabelHarms{}, 3, rng);
  const auto read = vision::make_symbol_reader()->look(views_of(shots), {}).read;
  REQUIRE(read.size() == 1);
  const auto& truth = shots.front().truth.corners;
  CHECK(std::abs(read[0].corners[0].x - truth[0].x) < 8);
  CHECK(std::abs(read[0].corners[0].y - truth[0].y) < 8);
}

TEST_CASE("Shots of two scenes give the labels of both, and no shots or empty ones give none") {
  cv::RNG rng(61200);
  const auto one = modelled_label({}, rng);
  const auto other = modelled_label({}, rng);
  const auto reader = vision::make_symbol_reader();
  const std::vector<port::GrayView> both{view_of(one.gray), view_of(other.gray)};
  const auto read = reader->look(both, {}).read;
  CHECK(has(read, one.truth.text));
  CHECK(has(read, other.truth.text));
  CHECK(reader->look(std::span<const port::GrayView>{}, {}).read.empty());
  const std::vector<port::GrayView> nothing(3);
  CHECK(reader->look(nothing, {}).read.empty());
}

TEST_CASE("A symbol half covered is told from candidates, and from strangers not at all") {
  cv::RNG rng(61300);
  const auto label = modelled_label({}, rng);
  const auto stranger = modelled_label({}, rng);
  cv::Mat covered = label.gray.clone();
  const auto& c = label.truth.corners;
  const std::vector<cv::Point> right_part{
      cv::Point(cv::Point2d((c[0].x + 2 * c[1].x) / 3, (c[0].y + 2 * c[1].y) / 3)),
      cv::Point(cv::Point2d(c[1].x, c[1].y)), cv::Point(cv::Point2d(c[2].x, c[2].y)),
      cv::Point(cv::Point2d((c[3].x + 2 * c[2].x) / 3, (c[3].y + 2 * c[2].y) / 3))};
  cv::fillConvexPoly(covered, right_part, cv::Scalar(150));
  const auto reader = vision::make_symbol_reader();
  const std::vector<core::SymbolGrid> known{grid_of(stranger.truth), grid_of(label.truth)};
  const auto match = reader->match(view_of(covered), c, known);
  REQUIRE(match);
  CHECK(match->candidate == 1);
  CHECK(match->over_chance > 12);
  const std::vector<core::SymbolGrid> strangers{grid_of(stranger.truth)};
  const auto wrong = reader->match(view_of(covered), c, strangers);
  CHECK((!wrong || wrong->over_chance < 12));
}

TEST_CASE("A crisp scan is measured as sound, a pale one as pale") {
  const cv::Mat crisp = enlarged(drawn_symbol("LL1.SAMPLE.LABEL", 5, Level::Q), 8, 6);
  cv::Mat pale;
  crisp.convertTo(pale, CV_8U, 0.3, 150);
  const auto reader = vision::make_symbol_reader();
  for (const auto& [picture, letter] : {std::pair{crisp, "A"}, {pale, "D"}}) {
    const auto symbols = reader->read(view_of(picture));
    REQUIRE(symbols.size() == 1);
    const auto measures = reader->measure(view_of(picture), symbols[0]);
    REQUIRE(measures);
    CHECK(measures->decoded);
    CHECK(measures->module_pixels == Approx(8).margin(0.1));
    CHECK(core::letter_of(core::overall_grade(core::grades_of(*measures))) == letter);
  }
}

TEST_CASE("The texture alone tells where a symbol lies, whatever hides its finders") {
  int found = 0;
  constexpr int kLabels = 10;
  for (int i = 0; i < kLabels; ++i) {
    cv::RNG rng(static_cast<std::uint64_t>(61400 + i));
    LabelHarms harms;
    harms.tape = 0.12;
    const auto label = modelled_label(harms, rng);
    const auto middle = vision::centre_of(label.truth.corners);
    const double side = vision::mean_side(label.truth.corners);
    const auto places = vision::texture_places(label.gray, 3);
    found += std::any_of(places.begin(), places.end(), [&](const auto& place) {
      const auto centre = vision::centre_of(place);
      return std::hypot(centre.x - middle.x, centre.y - middle.y) < 0.25 * side;
    });
    CHECK(vision::changes_across(view_of(label.gray), label.truth.corners) > vision::kLeastChanges);
  }
  CHECK(found >= 9);
  CHECK(vision::texture_places(cv::Mat(400, 600, CV_8UC1, cv::Scalar(120)), 3).empty());
  CHECK(vision::texture_places(cv::Mat(10, 10, CV_8UC1, cv::Scalar(120)), 3).empty());
}

}  // namespace loadlight::vision_tests
