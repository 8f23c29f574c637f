#include "loadlight/core/sweep_guidance.h"

#include <catch2/catch.hpp>

namespace loadlight::core_tests {

using core::hints_for;
using core::SweepHint;
using core::SweepMeasures;

TEST_CASE("A sweep within every limit asks for nothing") {
  const double module = core::kLeastSweepModule;
  CHECK(hints_for({core::kMostSmear * module, module, core::kLeastBrightness, 1920}).empty());
  CHECK(hints_for({0, 4, 255, 1920}).empty());
}

TEST_CASE("Each limit passed is said, and said alone") {
  const double module = core::kLeastSweepModule;
  CHECK(hints_for({core::kMostSmear * 3 + 0.01, 3, 128, 1920}) == std::vector{SweepHint::TooFast});
  CHECK(hints_for({0, module - 0.01, 128, 1920}) == std::vector{SweepHint::TooFar});
  CHECK(hints_for({0, 3, core::kLeastBrightness - 0.01, 1920}) == std::vector{SweepHint::TooDark});
}

TEST_CASE("Several limits passed are said in one order") {
  CHECK(hints_for({100, 1, 10, 1920}) ==
        std::vector{SweepHint::TooFast, SweepHint::TooFar, SweepHint::TooDark});
}

TEST_CASE("Without a label in view neither speed nor distance can be judged") {
  CHECK(hints_for({500, 0, 128, 1920}).empty());
  CHECK(hints_for({500, 0, 0, 1920}) == std::vector{SweepHint::TooDark});
}

TEST_CASE("Larger modules may pass faster") {
  CHECK(!hints_for({core::kMostSmear * 4, 2, 128, 1920}).empty());
  CHECK(hints_for({core::kMostSmear * 4, 4, 128, 1920}).empty());
}

TEST_CASE("The widest piece of shelf keeps its modules readable") {
  const auto width = core::largest_usable_width(1920, 0.4);
  REQUIRE(width);
  CHECK(1920 / *width * 0.4 == Approx(core::kLeastSweepModule));
  CHECK(*core::largest_usable_width(3840, 0.4) == Approx(2 * *width));
  CHECK(!core::largest_usable_width(1920, 0));
  CHECK(!core::largest_usable_width(1920, -1));
  CHECK(!core::largest_usable_width(0, 0.4));
}

}  // namespace loadlight::core_tests
