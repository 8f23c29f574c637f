#include "vision/print_measures.h"

#include <catch2/catch.hpp>

#include "vision/qr_blocks.h"
#include "vision/qr_structure.h"
#include "vision/soft_symbols.h"

namespace loadlight::vision {
namespace {

using port::PixelPoint;

constexpr int kModule = 6;  // pixels
constexpr int kQuiet = 4;   // modules
constexpr int kSide = 37;

struct Print final {
  cv::Mat picture;
  DecodedGrid decoded;

  port::GrayView view() const {
    return {picture.data, picture.cols, picture.rows, static_cast<int>(picture.step)};
  }
  // Of a module's upper left pixel.
  cv::Mat module(int x, int y) {
    return picture(cv::Rect((x + kQuiet) * kModule, (y + kQuiet) * kModule, kModule, kModule));
  }
};

// Version 5-Q with these grey levels.
Print print(int dark, int light) {
  const auto symbol = vision_tests::drawn_symbol("LL1.S0123456789", 5, vision_tests::Level::Q);
  Print result{vision_tests::enlarged(symbol, kModule, kQuiet), {}};
  result.picture.convertTo(result.picture, CV_8U, (light - dark) / 255.0, dark);
  result.decoded = decode_grid(vision_tests::soft_grid(symbol, 5)).value();
  return result;
}

GridMap grid_map(double stretch_x, double bulge) {
  std::vector<PixelPoint> nodes;
  for (int v = 0; v <= kSide; ++v) {
    for (int u = 0; u <= kSide; ++u) {
      const double moved = u == kSide / 2 && v == kSide / 2 ? bulge * kModule : 0;
      nodes.push_back({(kQuiet + u * stretch_x) * kModule + moved, (kQuiet + v) * 1.0 * kModule});
    }
  }
  return {kSide, nodes};
}

int grade_of(const core::PrintMeasures& measures, core::PrintParameter parameter) {
  return core::grades_of(measures)[static_cast<std::size_t>(parameter)].grade;
}

}  // namespace

TEST_CASE("A clean print has the contrast of its levels, and the best of everything else") {
  const auto clean = print(51, 204);
  const auto measures = measure_print(clean.view(), grid_map(1, 0), clean.decoded);
  REQUIRE(measures);
  CHECK(measures->decoded);
  CHECK(measures->contrast == Approx(0.6).margin(0.01));
  CHECK(measures->damaged_modules == 0);
  CHECK(measures->axial_non_uniformity == Approx(0).margin(1e-6));
  CHECK(measures->grid_non_uniformity == Approx(0).margin(1e-6));
  CHECK(measures->unused_error_correction == 1);
  CHECK(measures->codewords.size() == 134);
  CHECK(measures->check_codewords == std::vector<int>{18, 18, 18, 18});
  CHECK(measures->module_pixels == Approx(kModule).margin(0.01));
  for (const auto& codeword : measures->codewords) CHECK(codeword.modulation > 0.95);
  const auto grades = core::grades_of(*measures);
  CHECK(core::overall_grade(grades) == 3);  // contrast alone: 0.55 to 0.70 (ISO/IEC 15415)
}

TEST_CASE("Damaged modules are counted in the worst part of the fixed patterns") {
  auto damaged = print(0, 255);
  damaged.module(1, 1).setTo(0);  // of one finder pattern, light
  damaged.module(0, 0).setTo(255);
  damaged.module(kSide - 1, 0).setTo(255);  // of another, dark
  const auto measures = measure_print(damaged.view(), grid_map(1, 0), damaged.decoded);
  REQUIRE(measures);
  CHECK(measures->damaged_modules == 2);
  CHECK(grade_of(*measures, core::PrintParameter::FixedPatternDamage) == 2);
}

TEST_CASE("A pale module lowers its codeword's modulation and no other's") {
  auto pale = print(0, 255);
  const int module = kSide - 1;  // the last one of the lowest row belongs to the first codeword
  pale.module(module, module).setTo(pale.decoded.grid.dark(module, module) ? 102 : 153);
  const auto measures = measure_print(pale.view(), grid_map(1, 0), pale.decoded);
  REQUIRE(measures);
  CHECK(measures->codewords[0].modulation == Approx(0.2).margin(0.02));
  for (std::size_t i = 1; i < measures->codewords.size(); ++i)
    CHECK(measures->codewords[i].modulation > 0.95);
}

TEST_CASE("Unused error correction is that of the worst block, by what is seen") {
  auto worn = print(0, 255);
  // Three codewords of block 2, each with a module that shows the other colour than the symbol must have.
  const auto& form = worn.decoded.grid.form;
  const auto block = blocks_of(form.version, form.level)[2];
  for (std::size_t i = 0; i < 3; ++i) {
    const auto bit = static_cast<std::size_t>(block.places[i]) * 8;
    auto& module = worn.decoded.grid.modules[static_cast<std::size_t>(data_order(form.version)[bit])];
    module = module != 0 ? 0 : 1;
  }
  const auto measures = measure_print(worn.view(), grid_map(1, 0), worn.decoded);
  REQUIRE(measures);
  CHECK(measures->unused_error_correction == Approx(1 - 6.0 / 18));
}

TEST_CASE("Modules longer than they are high, and modules out of place, are measured in modules") {
  const auto clean = print(0, 255);
  const auto stretched = measure_print(clean.view(), grid_map(1.1, 0), clean.decoded);
  REQUIRE(stretched);
  CHECK(stretched->axial_non_uniformity == Approx(0.1 / 1.05).margin(1e-3));
  const auto bulged = measure_print(clean.view(), grid_map(1, 0.4), clean.decoded);
  REQUIRE(bulged);
  CHECK(bulged->grid_non_uniformity == Approx(0.4).margin(0.01));
}

TEST_CASE("Perspective is the camera's doing and leaves the grid uniform") {
  const auto clean = print(0, 255);
  std::vector<PixelPoint> nodes;
  for (int v = 0; v <= kSide; ++v) {
    for (int u = 0; u <= kSide; ++u) {
      const double depth = 1 + 0.004 * u;
      nodes.push_back({20 + 5 * u / depth, 20 + 5 * v / depth});
    }
  }
  const auto measures = measure_print(clean.view(), {kSide, nodes}, clean.decoded);
  REQUIRE(measures);
  CHECK(measures->grid_non_uniformity == Approx(0).margin(1e-6));
}

TEST_CASE("Nothing is measured off the picture, by a map of another size, or without contrast") {
  const auto clean = print(0, 255);
  CHECK(!measure_print(clean.view(), GridMap(21, std::vector<PixelPoint>(22 * 22)), clean.decoded));
  CHECK(!measure_print(clean.view(), grid_map(1.2, 0), clean.decoded));
  CHECK(!measure_print({}, grid_map(1, 0), clean.decoded));
  const auto flat = print(128, 128);
  CHECK(!measure_print(flat.view(), grid_map(1, 0), flat.decoded));
}

}  // namespace loadlight::vision
