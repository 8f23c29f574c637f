// Which QR symbol a text gets in a box of a template, in whole printer dots.
//
//   - A box of W millimetres offers floor(W * dpi / 25.4) - 1 dots: what is sure to lie inside it wherever
//     the box falls on the printer's raster, so that a label looks the same in every cell and at any nudge.
//   - A symbol needs side + 8 modules: four of quiet zone on each side.
//   - A module is sound from 4 dots and 0.33 mm on (QR's inventor advises 4 dots or more; 4 dots of a
//     300 dpi printer are 0.339 mm).
//   - The most robust level wins: of H, Q, M, L in this order the first at which some version (1 to 10)
//     holds the text with sound modules. Within a level, the version with the largest module; of equals
//     the smallest version.
//   - If no level has sound modules, the largest module of all wins, of equals the more robust level, and
//     the choice is not sound: the caller warns.
#pragma once

#include <cstddef>

#include "loadlight/core/result.h"
#include "loadlight/core/symbol.h"

namespace loadlight::label {

inline constexpr int kSoundModuleDots = 4;
inline constexpr double kSoundModuleMillimetres = 0.33;
inline constexpr int kFewestDpi = 10;
inline constexpr int kMostDpi = 1200;

struct SymbolChoice final {
  int version = 1;
  core::ErrorCorrection level = core::ErrorCorrection::M;
  int module_dots = 1;

  bool sound(int dpi) const;
  double module_millimetres(int dpi) const;
};

// Whole dots that a length surely offers; 0 or more.
int whole_dots(double millimetres, int dpi);

// For `characters` of the QR alphanumeric set in a square of `side_mm`. Fails with SymbolDoesNotFit, or
// QuietZoneTooSmall when only the quiet zone is in the way even at one dot a module.
core::Result<SymbolChoice> choose_symbol(std::size_t characters, double side_mm, int dpi);

// For a symbol already given by its form (a reprint): the largest module that fits. Fails as above.
core::Result<SymbolChoice> fit_symbol(const core::SymbolForm& form, double side_mm, int dpi);

}  // namespace loadlight::label
