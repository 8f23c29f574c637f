#include "label/text_fit.h"

#include <catch2/catch.hpp>

#include "label/plain_gauge.h"

using namespace loadlight;
using label::Align;
using label::fit_text;
using label::kMillimetresPerPoint;
using label::TextShape;
using label::Upright;

namespace {

const tests::PlainGauge kGauge;

TextShape shape_of(double size, double min, int lines) {
  TextShape shape;
  shape.size_pt = size;
  shape.min_pt = min;
  shape.lines = lines;
  return shape;
}

// How wide `characters` are at `size` points.
double width_of(int characters, double size) {
  return characters * size * kMillimetresPerPoint / 2;
}

}  // namespace

TEST_CASE("A text that fits keeps its size") {
  const auto block = fit_text("0123456789", shape_of(10, 6, 2), width_of(10, 10), 20, kGauge);
  REQUIRE(block);
  REQUIRE(block->has_value());
  CHECK((*block)->style.size_pt == 10);
  CHECK((*block)->lines.size() == 1);
}

TEST_CASE("A text too wide shrinks on one line before it breaks") {
  const auto block = fit_text("0123 56789", shape_of(10, 6, 2), width_of(10, 6), 20, kGauge);
  REQUIRE(block);
  REQUIRE(block->has_value());
  CHECK((*block)->style.size_pt == 6);
  CHECK((*block)->lines.size() == 1);
}

TEST_CASE("A text that cannot shrink enough breaks at words, as large as it can") {
  const auto block = fit_text("0123 56789", shape_of(10, 6, 2), width_of(10, 5.9), 20, kGauge);
  REQUIRE(block);
  REQUIRE(block->has_value());
  CHECK((*block)->lines.size() == 2);
  CHECK((*block)->lines[0].text == "0123");
  CHECK((*block)->style.size_pt == 10);
}

TEST_CASE("A single word breaks anywhere at the least size only") {
  const auto block = fit_text("01234567890123456789", shape_of(10, 6, 2), width_of(10, 6), 20, kGauge);
  REQUIRE(block);
  REQUIRE(block->has_value());
  CHECK((*block)->style.size_pt == 6);
  CHECK((*block)->lines.size() == 2);
  CHECK((*block)->lines[0].text + (*block)->lines[1].text == "01234567890123456789");
}

TEST_CASE("A text that cannot stand whole does not fit") {
  CHECK_FALSE(
      fit_text("012345678901234567890", shape_of(10, 6, 2), width_of(10, 6), 20, kGauge)->has_value());
  CHECK_FALSE(fit_text("0123456789", shape_of(10, 6, 1), width_of(10, 5.9), 20, kGauge)->has_value());
}

TEST_CASE("Height counts as width does") {
  const double line = 6 * kMillimetresPerPoint;
  CHECK(fit_text("0123", shape_of(10, 6, 1), 50, line * 1.04, kGauge)->has_value());
  CHECK_FALSE(fit_text("0123", shape_of(10, 6, 1), 50, line * 1.02, kGauge)->has_value());
  const auto block = fit_text("0123 56789", shape_of(10, 6, 2), width_of(10, 5), line * 2.25, kGauge);
  REQUIRE(block->has_value());
  CHECK((*block)->height <= line * 2.25);
}

TEST_CASE("The gauge's failure is handed on") {
  const auto block = fit_text("a~b", shape_of(10, 6, 1), 50, 50, kGauge);
  REQUIRE_FALSE(block);
  CHECK(block.failure().code == core::FailureCode::GlyphMissing);
}

TEST_CASE("Lines stand where their alignment says") {
  const auto block = fit_text("0123", shape_of(10, 10, 1), 50, 20, kGauge);
  const label::Box box{10, 20, 50, 20};
  const double width = width_of(4, 10);
  CHECK(set_in(**block, box, Align::Start, Upright::Top)[0].x == Approx(10));
  CHECK(set_in(**block, box, Align::Center, Upright::Top)[0].x == Approx(35 - width / 2));
  CHECK(set_in(**block, box, Align::End, Upright::Top)[0].x == Approx(60 - width));
  const double top = set_in(**block, box, Align::Start, Upright::Top)[0].baseline;
  const double bottom = set_in(**block, box, Align::Start, Upright::Bottom)[0].baseline;
  CHECK(bottom - top == Approx(20 - (*block)->height));
}

TEST_CASE("Text that runs right to left starts at the right edge") {
  const auto block = fit_text("<123", shape_of(10, 10, 1), 50, 20, kGauge);
  const label::Box box{10, 20, 50, 20};
  CHECK(set_in(**block, box, Align::Start, Upright::Top)[0].x == Approx(60 - width_of(4, 10)));
  CHECK(set_in(**block, box, Align::End, Upright::Top)[0].x == Approx(10));
}
