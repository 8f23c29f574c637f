// How well a symbol is printed, estimated from a picture along the parameters of ISO/IEC 15415. An estimate:
// a verified grade needs calibrated light, aperture and geometry.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

enum class PrintParameter {
  Decode,
  Contrast,
  Modulation,
  FixedPatternDamage,
  AxialNonUniformity,
  GridNonUniformity,
  UnusedErrorCorrection,
};

// How far a codeword's least certain module lies from the threshold, in halves of the contrast: 0 to 1.
struct CodewordModulation final {
  int block = 0;
  double modulation = 0;
  bool wrong = false;  // error correction changed it
};

// What a picture shows of one symbol.
struct PrintMeasures final {
  bool decoded = false;
  double contrast = 0;               // lightest less darkest reflectance, 0 to 1
  int damaged_modules = 0;           // wrong modules in the worst part of the fixed patterns
  double axial_non_uniformity = 0;   // 0 for square modules
  double grid_non_uniformity = 0;    // largest distance of a module from its place in an ideal grid, modules
  double unused_error_correction = 0;  // 0 to 1
  std::vector<CodewordModulation> codewords;
  std::vector<int> check_codewords;  // of each block
  double module_pixels = 0;          // fewer than 5 measure the camera rather than the print
};

// From 4 (best) to 0, and its letter A, B, C, D, F.
struct ParameterGrade final {
  PrintParameter parameter = PrintParameter::Decode;
  double value = 0;
  int grade = 0;
};

// Every parameter, in the order of the enumeration.
std::vector<ParameterGrade> grades_of(const PrintMeasures& measures);
int overall_grade(std::span<const ParameterGrade> grades);  // the lowest; 0 of none
std::string_view letter_of(int grade);                      // "A" for 4 to "F" for 0 and anything else

template <>
struct Vocabulary<PrintParameter> {
  static constexpr Term<PrintParameter> kTerms[] = {
      {PrintParameter::Decode, "decode"},
      {PrintParameter::Contrast, "contrast"},
      {PrintParameter::Modulation, "modulation"},
      {PrintParameter::FixedPatternDamage, "fixed-pattern-damage"},
      {PrintParameter::AxialNonUniformity, "axial-non-uniformity"},
      {PrintParameter::GridNonUniformity, "grid-non-uniformity"},
      {PrintParameter::UnusedErrorCorrection, "unused-error-correction"}};
};

}  // namespace loadlight::core
