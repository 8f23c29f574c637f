#include "loadlight/core/symbol.h"

#include <catch2/catch.hpp>

#include "loadlight/core/payload.h"

using namespace loadlight::core;

namespace {

// Data codewords of versions 1 to 10 (ISO/IEC 18004 table 7), order L, M, Q, H.
constexpr int kDataCodewords[10][4] = {
    {19, 16, 13, 9},    {34, 28, 22, 16},   {55, 44, 34, 26},    {80, 64, 48, 36},     {108, 86, 62, 46},
    {136, 108, 76, 60}, {156, 124, 88, 66}, {194, 154, 110, 86}, {232, 182, 132, 100}, {274, 216, 154, 122}};

// ISO/IEC 18004: 4 bits of mode, 9 bits of count (11 from version 10), 11 bits for two characters, 6 for one.
int capacity_as_computed(int version, int level) {
  const int bits = 8 * kDataCodewords[version - 1][level] - 4 - (version < 10 ? 9 : 11);
  return bits / 11 * 2 + (bits % 11 >= 6 ? 1 : 0);
}

}  // namespace

TEST_CASE("The capacities of versions 1 to 10 follow from the standard's data codewords") {
  for (int version = 1; version <= 10; ++version) {
    for (int level = 0; level < 4; ++level) {
      CHECK(alphanumeric_capacity(version, static_cast<ErrorCorrection>(level)) ==
            capacity_as_computed(version, level));
    }
  }
}

TEST_CASE("The longest payload fits version 5-Q exactly, and 4-M") {
  CHECK(alphanumeric_capacity(5, ErrorCorrection::Q) == static_cast<int>(kLongestPayload));
  CHECK(alphanumeric_capacity(4, ErrorCorrection::M) >= static_cast<int>(kLongestPayload));
  CHECK(alphanumeric_capacity(4, ErrorCorrection::Q) < static_cast<int>(kLongestPayload));
}

TEST_CASE("Outside versions 1 to 10 there is no capacity") {
  CHECK(alphanumeric_capacity(0, ErrorCorrection::L) == 0);
  CHECK(alphanumeric_capacity(11, ErrorCorrection::L) == 0);
  CHECK(alphanumeric_capacity(-3, ErrorCorrection::H) == 0);
}

TEST_CASE("A level is written and read by its letter") {
  for (auto level : {ErrorCorrection::L, ErrorCorrection::M, ErrorCorrection::Q, ErrorCorrection::H}) {
    CHECK(parse_error_correction(to_text(level)) == level);
  }
  CHECK_FALSE(parse_error_correction("l"));
  CHECK_FALSE(parse_error_correction(""));
  CHECK_FALSE(parse_error_correction("LM"));
}

TEST_CASE("A side has 17 modules and four for each version") {
  CHECK(SymbolForm{1, ErrorCorrection::M, 0}.side() == 21);
  CHECK(SymbolForm{40, ErrorCorrection::M, 0}.side() == 177);
}
