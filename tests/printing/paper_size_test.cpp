#include "printing/paper_size.h"

#include <catch2/catch.hpp>
#include <vector>

namespace loadlight::tests {
namespace {

using printing::nearest_size;
using printing::SizeRange;

SizeRange fixed(int width, int height) { return {width, width, height, height}; }

TEST_CASE("Paper of the page's size is taken as it is") {
  const auto size = nearest_size(std::vector{fixed(21590, 27940), fixed(21000, 29700)}, 210, 297);
  REQUIRE(size);
  REQUIRE(size->width == 21000);
  REQUIRE(size->height == 29700);
}

TEST_CASE("A roll that is named by inches is the same paper") {
  const auto size = nearest_size(std::vector{fixed(10160, 5080), fixed(5715, 3175)}, 57, 32);  // 2.25 x 1.25 in
  REQUIRE(size);
  REQUIRE(size->width == 5715);
  REQUIRE(size->height == 3175);
}

TEST_CASE("The nearest of several wins and what lies further off is another paper") {
  REQUIRE(nearest_size(std::vector{fixed(5780, 3200), fixed(5710, 3200)}, 57, 32)->width == 5710);
  REQUIRE(nearest_size(std::vector{fixed(5820, 3200)}, 57, 32));
  REQUIRE_FALSE(nearest_size(std::vector{fixed(5821, 3200)}, 57, 32));
  REQUIRE_FALSE(nearest_size(std::vector{fixed(21590, 27940)}, 210, 297));
  REQUIRE_FALSE(nearest_size({}, 57, 32));
}

TEST_CASE("A printer that cuts its paper itself takes any length within its range") {
  const std::vector roll{SizeRange{5700, 5700, 1000, 100000}};
  REQUIRE(nearest_size(roll, 57, 32)->height == 3200);
  REQUIRE_FALSE(nearest_size(roll, 57, 5));
}

TEST_CASE("A range that ends before it begins is none") {
  REQUIRE_FALSE(nearest_size(std::vector{SizeRange{1, 0, 1, 0}}, 0.01, 0.01));
}

}  // namespace
}  // namespace loadlight::tests
