// What the reader of laid grids reads of modelled labels, and that it reads nothing else.
#include "vision/grid_reader.h"

#include <catch2/catch.hpp>
#include <iostream>

#include "vision/cut_label.h"
#include "vision/grid_sampler.h"
#include "vision/look_alikes.h"

namespace loadlight::vision_tests {
namespace {

constexpr int kLabels = 10;

struct Floor final {
  const char* name;
  LabelHarms harms;
  int least;  // of kLabels; may only rise
};

// How many are read; every text must be the printed one.
int read_of(const LabelHarms& harms, std::uint64_t seed) {
  int read = 0;
  for (int i = 0; i < kLabels; ++i) {
    const auto cut = cut_label(harms, seed + static_cast<std::uint64_t>(i));
    const auto reading = vision::read_grid(cut.view(), cut.spots(), {});
    if (!reading) continue;
    CHECK(reading->decoded.text == cut.label.truth.text);
    ++read;
  }
  return read;
}

TEST_CASE("Labels that no flat reader reads are read by their laid grid") {
  const Floor floors[] = {
      {"curled by 85 degrees", {.curl = 85}, 10},
      {"curled by 100 degrees", {.curl = 100}, 9},
      {"curled by 85 degrees, receding", {.curl = 85, .deep = true}, 10},
      {"curled by 100 degrees, receding", {.curl = 100, .deep = true}, 9},
      {"wrinkled by 0.35 modules", {.wrinkle = 0.35}, 10},
      {"a band of 0.08 blown out", {.glare = 0.08}, 8},
      {"0.12 covered by tape", {.tape = 0.12}, 9},
      {"1.25 pixels a module", {.module = 1.25}, 8},
      {"out of focus by 2 pixels", {.defocus = 2}, 8},
      {"out of focus by 2 pixels, the lens sharp", {.base_blur = 0, .defocus = 2}, 8},
      {"a contrast of 0.05", {.contrast = 0.05}, 9},
      {"noise of 75", {.noise = 75}, 7},
  };
  for (const auto& floor : floors) {
    INFO(floor.name);
    const int read = read_of(floor.harms, 72'000);
    std::cout << "read by grid, " << floor.name << ": " << read << " of " << kLabels << "\n";
    CHECK(read >= floor.least);
  }
}

TEST_CASE("A laid grid reads nothing from what only looks like a symbol") {
  cv::RNG rng(73'000);
  for (const auto& picture : look_alikes(rng)) {
    const port::GrayView view{picture.gray.data, picture.gray.cols, picture.gray.rows,
                              static_cast<int>(picture.gray.step)};
    INFO(picture.name);
    CHECK_FALSE(vision::read_grid(view, vision::find_finder_spots(view), {}));
  }
}

TEST_CASE("Pictures too small for any symbol, blank or nothing but noise hold no grid") {
  cv::RNG rng(74'000);
  for (const int side : {1, 2, 7, 20, 150}) {
    cv::Mat blank(side, side, CV_8UC1, cv::Scalar(200));
    cv::Mat noise(side, side, CV_8UC1);
    rng.fill(noise, cv::RNG::UNIFORM, 0, 256);
    for (const auto& gray : {blank, noise}) {
      const port::GrayView view{gray.data, gray.cols, gray.rows, static_cast<int>(gray.step)};
      CHECK_FALSE(vision::read_grid(view, {}, {}));
      CHECK(vision::lay_grids(view, {}, {}).empty());
    }
  }
}

TEST_CASE("Four quarter turns of a grid, and of what is seen in it, give the same again") {
  const auto cut = cut_label({}, 75'000);
  const auto reading = vision::read_grid(cut.view(), cut.spots(), {});
  REQUIRE(reading);
  CHECK(vision::turned(vision::turned(reading->seen, 3), 1).dark == reading->seen.dark);
  const auto once = reading->map.turned(1);
  const auto last = reading->map.side();
  CHECK(once.at(0, 0).x == Approx(reading->map.at(0, last).x));
  CHECK(once.at(last, 0).y == Approx(reading->map.at(0, 0).y));
}

}  // namespace
}  // namespace loadlight::vision_tests
