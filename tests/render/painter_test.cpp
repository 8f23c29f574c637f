#include <catch2/catch.hpp>
#include <limits>

#include "loadlight/render/render.h"

// Pages as a screen shows them.

namespace loadlight::tests {
namespace {

// Width and height from a PNG's first chunk (ISO/IEC 15948, 11.2.2).
std::pair<unsigned, unsigned> png_size(const std::string& png) {
  REQUIRE(png.size() > 24);
  REQUIRE(png.substr(1, 3) == "PNG");
  REQUIRE(png.substr(12, 4) == "IHDR");
  const auto number = [&png](std::size_t at) {
    unsigned value = 0;
    for (std::size_t i = at; i < at + 4; ++i) value = value << 8 | static_cast<unsigned char>(png[i]);
    return value;
  };
  return {number(16), number(20)};
}

label::Page page_of(double width, double height) {
  label::Page page{width, height, {}};
  page.items.emplace_back(label::DrawnText{2, 6, {}, "Basic exam set"});
  page.items.emplace_back(label::DrawnFrame{1, 1, width - 2, height - 2, 0.3});
  page.items.emplace_back(label::DrawnPicture{1, 1, 5, 5, "no photograph", 10, 10});
  return page;
}

TEST_CASE("A page's longer side is as many pixels as were asked for") {
  const auto painter = render::make_painter();
  const auto wide = painter->paint(page_of(57, 32), 570);
  REQUIRE(wide);
  REQUIRE(png_size(*wide) == std::pair{570u, 320u});
  const auto high = painter->paint(page_of(210, 297), 297);
  REQUIRE(high);
  REQUIRE(png_size(*high) == std::pair{210u, 297u});
}

TEST_CASE("The same page gives the same picture and another page another") {
  const auto painter = render::make_painter();
  REQUIRE(*painter->paint(page_of(57, 32), 400) == *painter->paint(page_of(57, 32), 400));
  REQUIRE(*painter->paint(page_of(57, 32), 400) != *painter->paint(label::Page{57, 32, {}}, 400));
}

TEST_CASE("A page without a size and a picture past all bounds are refused") {
  const auto painter = render::make_painter();
  for (const double width : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN(),
                             std::numeric_limits<double>::infinity()}) {
    REQUIRE_FALSE(painter->paint(label::Page{width, 32, {}}, 100));
  }
  REQUIRE_FALSE(painter->paint(page_of(57, 32), 0));
  REQUIRE_FALSE(painter->paint(page_of(57, 32), label::Painter::kMostPixels + 1));
  REQUIRE(png_size(*painter->paint(label::Page{1000, 0.001, {}}, 100)) == std::pair{100u, 1u});
}

}  // namespace
}  // namespace loadlight::tests
