// The model itself: each harm does what its unit says, and the truth lies where the picture shows it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "vision/camera_view.h"
#include "vision/modelled_label.h"
#include "vision/modelled_shelf.h"
#include "vision/plain_reader.h"

namespace loadlight::vision_tests {
namespace {

ModelledLabel drawn(const LabelHarms& harms, std::uint64_t seed) {
  cv::RNG rng(seed);
  return modelled_label(harms, rng);
}

// Grey at the middle of module (x, y).
double module_grey(const ModelledLabel& label, int x, int y) {
  const auto a = label.truth.node(x, y);
  const auto b = label.truth.node(x + 1, y + 1);
  cv::Mat spot;
  const cv::Point2f at(static_cast<float>((a.x + b.x) / 2 - 0.5), static_cast<float>((a.y + b.y) / 2 - 0.5));
  cv::getRectSubPix(label.gray, {1, 1}, at, spot);
  return spot.at<std::uint8_t>(0, 0);
}

// Mean grey of light and of dark modules.
std::array<double, 2> levels(const ModelledLabel& label) {
  std::array<double, 2> sums{};
  std::array<int, 2> counts{};
  for (int y = 0; y < label.truth.side(); ++y) {
    for (int x = 0; x < label.truth.side(); ++x) {
      const std::size_t dark = label.truth.modules.at<std::uint8_t>(y, x) == 0;
      sums[dark] += module_grey(label, x, y);
      ++counts[dark];
    }
  }
  return {sums[0] / counts[0], sums[1] / counts[1]};
}

double step(const LabelTruth& truth, int x, int y, int dx, int dy) {
  const auto a = truth.node(x, y);
  const auto b = truth.node(x + dx, y + dy);
  return std::hypot(b.x - a.x, b.y - a.y);
}

// The share of modules whose grey tells what was printed.
double telling(const ModelledLabel& label) {
  const auto [light, dark] = levels(label);
  int right = 0;
  const int side = label.truth.side();
  for (int i = 0; i < side * side; ++i) {
    const bool seen_light = module_grey(label, i % side, i / side) > (light + dark) / 2;
    right += seen_light == (label.truth.modules.at<std::uint8_t>(i / side, i % side) != 0);
  }
  return static_cast<double>(right) / (side * side);
}

}  // namespace

TEST_CASE("A label in good sight reads as its own text") {
  int read = 0;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    const auto label = drawn({}, seed);
    const auto texts = plain_zxing(view_of(label.gray));
    read += std::find(texts.begin(), texts.end(), label.truth.text) != texts.end();
  }
  CHECK(read == 10);
}

TEST_CASE("The true lattice lies on the modules, however the label is bent and held") {
  LabelHarms bent;
  bent.curl = 90;
  bent.wrinkle = 0.6;
  bent.tilt = 25;
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    CHECK(telling(drawn({}, seed)) > 0.995);
    bent.deep = false;
    CHECK(telling(drawn(bent, seed)) > 0.98);
    bent.deep = true;
    CHECK(telling(drawn(bent, seed)) > 0.98);
  }
}

TEST_CASE("A module has the pixels that were asked for") {
  LabelHarms harms;
  harms.module = 3;
  const auto truth = drawn(harms, 4).truth;
  CHECK(step(truth, 0, 0, truth.side(), 0) / truth.side() == Approx(3).epsilon(0.001));
  CHECK(step(truth, 0, 0, 0, truth.side()) / truth.side() == Approx(3).epsilon(0.001));
}

TEST_CASE("Contrast is the difference of white and black") {
  for (const double contrast : {0.8, 0.3, 0.1}) {
    LabelHarms harms;
    harms.contrast = contrast;
    harms.base_blur = 0;
    harms.module = 6;
    const auto [light, dark] = levels(drawn(harms, 5));
    CHECK((light - dark) / 255 == Approx(contrast).margin(0.02));
  }
}

TEST_CASE("A curl brings the symbol's sides together as a cylinder's chord to its arc") {
  LabelHarms harms;
  harms.curl = 90;
  const auto truth = drawn(harms, 6).truth;
  double least = 1;
  // Over all directions through the middle, the shortest chord against its arc.
  for (int i = 0; i <= truth.side(); ++i) {
    for (const auto& [a, b] : {std::pair(truth.node(i, 0), truth.node(truth.side() - i, truth.side())),
                               std::pair(truth.node(0, i), truth.node(truth.side(), truth.side() - i))}) {
      const double flat = std::hypot(truth.side() - 2.0 * i, truth.side());
      least = std::min(least, std::hypot(b.x - a.x, b.y - a.y) / 4 / flat);
    }
  }
  const double at_90 = std::sin(CV_PI / 4) / (CV_PI / 4);  // the axis along a side
  CHECK(least <= at_90 * 1.02);
  CHECK(least > 0.75);
}

TEST_CASE("Noise of every channel has the deviation that was asked for") {
  LabelHarms harms;
  harms.jpeg = 100;
  harms.noise = 0;
  const auto quiet = drawn(harms, 7);
  harms.noise = 20;
  const auto noisy = drawn(harms, 7);
  cv::Mat off;
  cv::subtract(noisy.gray, quiet.gray, off, cv::noArray(), CV_32F);
  const cv::Mat middling = (quiet.gray > 80) & (quiet.gray < 175);  // where nothing clips
  REQUIRE(cv::countNonZero(middling) > 5000);
  cv::Scalar mean;
  cv::Scalar deviation;
  cv::meanStdDev(off, mean, deviation, middling);
  // Grey is 0.299 R + 0.587 G + 0.114 B (ITU-R BT.601), the channels' noise independent.
  const double of_grey = 20 * std::sqrt(0.299 * 0.299 + 0.587 * 0.587 + 0.114 * 0.114);
  CHECK(deviation[0] == Approx(of_grey).epsilon(0.06));
}

TEST_CASE("Shots of one label share its text and modules, and differ in pose") {
  cv::RNG rng(8);
  const auto shots = modelled_shots(0.6, 4, rng);
  REQUIRE(shots.size() == 4);
  for (const auto& shot : shots) {
    CHECK(shot.truth.text == shots[0].truth.text);
    CHECK(cv::countNonZero(shot.truth.modules != shots[0].truth.modules) == 0);
    CHECK(shot.truth.harms.curl == shots[0].truth.harms.curl);
  }
  CHECK(shots[1].truth.corners[0].x != shots[0].truth.corners[0].x);
}

TEST_CASE("The same seed draws the same label") {
  CHECK(cv::norm(drawn({}, 9).bgr, drawn({}, 9).bgr, cv::NORM_INF) == 0);
}

TEST_CASE("A small shelf holds the labels it says, in the frame and apart") {
  cv::RNG rng(10);
  const auto shelf = modelled_shelf({0, 6, {1280, 720}, 3, 4}, rng);
  REQUIRE(shelf.labels.size() == 6);
  cv::Mat gray;
  cv::cvtColor(shelf_frame(shelf, 0, rng), gray, cv::COLOR_BGR2GRAY);
  const auto texts = plain_zbar(view_of(gray));
  int read = 0;
  for (const auto& label : shelf.labels) read += std::count(texts.begin(), texts.end(), label.text) == 1;
  CHECK(read >= 5);
}

}  // namespace loadlight::vision_tests
