#include "loadlight/label/symbol_choice.h"

#include <catch2/catch.hpp>

using namespace loadlight;
using core::ErrorCorrection;
using core::FailureCode;
using label::choose_symbol;
using label::fit_symbol;
using label::whole_dots;

namespace {

// A box that surely offers exactly `dots` whole dots.
double side_of(int dots, int dpi) {
  return (dots + 1) * 25.4 / dpi;
}

}  // namespace

TEST_CASE("A box offers the whole dots that lie in it wherever it falls") {
  CHECK(whole_dots(25.4, 300) == 299);
  CHECK(whole_dots(25.4 - 0.001, 300) == 298);
  CHECK(whole_dots(25.4 + 25.4 / 300, 300) == 300);
  CHECK(whole_dots(0, 300) == 0);
  CHECK(whole_dots(0.1, 10) == 0);
}

TEST_CASE("The most robust level with sound modules wins, and gives way one dot later") {
  // The longest payload, 87 characters: 7-H, 5-Q, 4-M (ISO/IEC 18004 table 7); at 300 dpi 4 dots are sound.
  const int with_quiet_zone_h = 45 + 8;
  const int with_quiet_zone_q = 37 + 8;
  const int with_quiet_zone_m = 33 + 8;
  auto choice = choose_symbol(87, side_of(4 * with_quiet_zone_h, 300), 300);
  REQUIRE(choice);
  CHECK(choice->level == ErrorCorrection::H);
  CHECK(choice->version == 7);
  CHECK(choice->module_dots == 4);
  CHECK(choice->sound(300));

  choice = choose_symbol(87, side_of(4 * with_quiet_zone_h - 1, 300), 300);
  REQUIRE(choice);
  CHECK(choice->level == ErrorCorrection::Q);
  CHECK(choice->version == 5);
  CHECK(choice->module_dots == 4);

  choice = choose_symbol(87, side_of(4 * with_quiet_zone_q - 1, 300), 300);
  REQUIRE(choice);
  CHECK(choice->level == ErrorCorrection::M);
  CHECK(choice->version == 4);
  CHECK(choice->module_dots == 4);

  choice = choose_symbol(87, side_of(4 * with_quiet_zone_m - 1, 300), 300);
  REQUIRE(choice);
  CHECK_FALSE(choice->sound(300));
}

TEST_CASE("Without sound modules the largest module wins, of equals the more robust level") {
  // 150 dots at 203 dpi: 7-H 53 modules, 2 dots; 5-Q 45, 3 dots; 4-M and 4-L 41, 3 dots.
  const auto choice = choose_symbol(87, side_of(150, 203), 203);
  REQUIRE(choice);
  CHECK(choice->module_dots == 3);
  CHECK(choice->level == ErrorCorrection::Q);
  CHECK_FALSE(choice->sound(203));
}

TEST_CASE("A module of four dots is not sound when it is under 0.33 mm") {
  label::SymbolChoice choice{5, ErrorCorrection::Q, 4};
  CHECK(choice.sound(300));        // 0.3387 mm
  CHECK(choice.sound(307));        // 0.3309 mm
  CHECK_FALSE(choice.sound(308));  // 0.3299 mm
  CHECK_FALSE(choice.sound(600));
  choice.module_dots = 3;
  CHECK_FALSE(choice.sound(203));  // 0.375 mm, but three dots
}

TEST_CASE("The text's length moves the version at the capacity's boundary") {
  // 7-H holds 93, 8-H holds 122 (ISO/IEC 18004 table 7).
  const auto last = choose_symbol(93, 60, 300);
  const auto next = choose_symbol(94, 60, 300);
  REQUIRE(last);
  REQUIRE(next);
  CHECK(last->version == 7);
  CHECK(next->version == 8);
  CHECK(choose_symbol(395, 60, 300)->level == ErrorCorrection::L);
  REQUIRE_FALSE(choose_symbol(396, 60, 300));
  CHECK(choose_symbol(396, 60, 300).failure().code == FailureCode::SymbolDoesNotFit);
}

TEST_CASE("Too small a box fails, and says when only the quiet zone is in the way") {
  // 87 characters need 33 modules at least, 41 with the quiet zone.
  CHECK(choose_symbol(87, side_of(41, 300), 300));
  const auto no_quiet_zone = choose_symbol(87, side_of(40, 300), 300);
  REQUIRE_FALSE(no_quiet_zone);
  CHECK(no_quiet_zone.failure().code == FailureCode::QuietZoneTooSmall);
  CHECK(choose_symbol(87, side_of(33, 300), 300).failure().code == FailureCode::QuietZoneTooSmall);
  CHECK(choose_symbol(87, side_of(32, 300), 300).failure().code == FailureCode::SymbolDoesNotFit);
}

TEST_CASE("A reprint keeps its form and takes the largest module that fits") {
  const core::SymbolForm form{5, ErrorCorrection::Q, 3};
  const auto choice = fit_symbol(form, side_of(7 * 45 + 44, 300), 300);
  REQUIRE(choice);
  CHECK(choice->version == 5);
  CHECK(choice->level == ErrorCorrection::Q);
  CHECK(choice->module_dots == 7);
  CHECK(fit_symbol(form, side_of(44, 300), 300).failure().code == FailureCode::QuietZoneTooSmall);
  CHECK(fit_symbol(form, side_of(36, 300), 300).failure().code == FailureCode::SymbolDoesNotFit);
}
