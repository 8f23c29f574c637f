#include "loadlight/core/print_grade.h"

#include <catch2/catch.hpp>

namespace loadlight::core {
namespace {

// All that a symbol without a flaw shows: one block of 10 check codewords, 16 of data.
PrintMeasures flawless() {
  PrintMeasures measures;
  measures.decoded = true;
  measures.contrast = 0.9;
  measures.unused_error_correction = 1;
  measures.codewords.assign(26, {0, 0.9, false});
  measures.check_codewords = {10};
  measures.module_pixels = 8;
  return measures;
}

int grade_of(const PrintMeasures& measures, PrintParameter parameter) {
  const auto grades = grades_of(measures);
  const auto& row = grades.at(static_cast<std::size_t>(parameter));
  CHECK(row.parameter == parameter);
  return row.grade;
}

// A bound of a grade: at it the grade is earned, a little on the wrong side of it no more.
struct Bound final {
  double value;
  int grade;
};

template <typename Set>
void check_bounds(PrintParameter parameter, double wrong_side, std::initializer_list<Bound> bounds, Set set) {
  for (const auto& bound : bounds) {
    auto measures = flawless();
    set(measures, bound.value);
    INFO(to_text(parameter) << " " << bound.value);
    CHECK(grade_of(measures, parameter) == bound.grade);
    set(measures, bound.value + wrong_side);
    CHECK(grade_of(measures, parameter) == bound.grade - 1);
  }
}

}  // namespace

// ISO/IEC 15415:2011, as a verifier's manual quotes it.
TEST_CASE("Contrast and unused error correction are graded at the standard's bounds, which count") {
  check_bounds(PrintParameter::Contrast, -0.001, {{0.70, 4}, {0.55, 3}, {0.40, 2}, {0.20, 1}},
               [](PrintMeasures& m, double value) { m.contrast = value; });
  check_bounds(PrintParameter::UnusedErrorCorrection, -0.001, {{0.62, 4}, {0.50, 3}, {0.37, 2}, {0.25, 1}},
               [](PrintMeasures& m, double value) { m.unused_error_correction = value; });
}

// ISO/IEC 15415:2011, from memory.
TEST_CASE("Non-uniformities and damaged modules are graded at the standard's bounds, which count") {
  check_bounds(PrintParameter::AxialNonUniformity, 0.001, {{0.06, 4}, {0.08, 3}, {0.10, 2}, {0.12, 1}},
               [](PrintMeasures& m, double value) { m.axial_non_uniformity = value; });
  check_bounds(PrintParameter::GridNonUniformity, 0.001, {{0.38, 4}, {0.50, 3}, {0.63, 2}, {0.75, 1}},
               [](PrintMeasures& m, double value) { m.grid_non_uniformity = value; });
  check_bounds(PrintParameter::FixedPatternDamage, 1, {{0, 4}, {1, 3}, {2, 2}, {3, 1}},
               [](PrintMeasures& m, double value) { m.damaged_modules = static_cast<int>(value); });
}

// ISO/IEC 15415:2011, as a verifier's manual quotes it: the highest level for which the codewords that reach
// it still leave the unused error correction of that level.
TEST_CASE("Modulation counts codewords below a level as errors, as far as error correction bears them") {
  const auto grade_with_pale = [](int count, double modulation) {
    auto measures = flawless();
    for (int i = 0; i < count; ++i) measures.codewords[static_cast<std::size_t>(i)].modulation = modulation;
    return grade_of(measures, PrintParameter::Modulation);
  };
  CHECK(grade_with_pale(26, 0.50) == 4);
  CHECK(grade_with_pale(26, 0.49) == 3);
  CHECK(grade_with_pale(26, 0.30) == 2);
  CHECK(grade_with_pale(26, 0.20) == 1);
  CHECK(grade_with_pale(26, 0.19) == 0);
  CHECK(grade_with_pale(1, 0.0) == 4);  // 1 - 2/10 = 0.8
  CHECK(grade_with_pale(2, 0.0) == 3);  // 0.6
  CHECK(grade_with_pale(3, 0.0) == 2);  // 0.4
  CHECK(grade_with_pale(4, 0.0) == 0);  // 0.2
}

TEST_CASE("A wrong codeword counts against modulation however strong it looks") {
  auto measures = flawless();
  measures.codewords[0].wrong = measures.codewords[1].wrong = true;
  CHECK(grade_of(measures, PrintParameter::Modulation) == 3);
}

TEST_CASE("Modulation is that of the worst block") {
  auto measures = flawless();
  measures.check_codewords = {10, 10};
  for (int i = 0; i < 26; ++i) measures.codewords.push_back({1, i < 3 ? 0.0 : 0.9, false});
  CHECK(grade_of(measures, PrintParameter::Modulation) == 2);
}

TEST_CASE("What was not decoded fails, and the lowest grade is the symbol's") {
  const auto best = grades_of(flawless());
  CHECK(best.size() == std::size(Vocabulary<PrintParameter>::kTerms));
  CHECK(overall_grade(best) == 4);
  auto measures = flawless();
  measures.contrast = 0.45;
  measures.damaged_modules = 1;
  CHECK(overall_grade(grades_of(measures)) == 2);
  measures.decoded = false;
  CHECK(overall_grade(grades_of(measures)) == 0);
  CHECK(overall_grade({}) == 0);
}

TEST_CASE("Letters run from A for 4 to F for 0, and anything else is F") {
  CHECK(letter_of(4) == "A");
  CHECK(letter_of(3) == "B");
  CHECK(letter_of(2) == "C");
  CHECK(letter_of(1) == "D");
  CHECK(letter_of(0) == "F");
  CHECK(letter_of(-1) == "F");
  CHECK(letter_of(5) == "F");
}

}  // namespace loadlight::core
