#include "loadlight/label/symbol_choice.h"

#include <cmath>
#include <optional>

namespace loadlight::label {
namespace {

using core::ErrorCorrection;

constexpr int kLargestVersion = 10;
constexpr ErrorCorrection kMostRobustFirst[] = {ErrorCorrection::H, ErrorCorrection::Q, ErrorCorrection::M,
                                                ErrorCorrection::L};

int modules_with_quiet_zone(int version) {
  return core::SymbolForm{version, ErrorCorrection::M, 0}.side() + 2 * core::kQuietZoneModules;
}

// The smallest version has the largest module, so it is a level's best.
std::optional<int> smallest_version(std::size_t characters, ErrorCorrection level) {
  for (int version = 1; version <= kLargestVersion; ++version) {
    if (static_cast<std::size_t>(core::alphanumeric_capacity(version, level)) >= characters) return version;
  }
  return std::nullopt;
}

core::Failure too_small(int version, int dots) {
  const bool without_quiet_zone = core::SymbolForm{version, ErrorCorrection::M, 0}.side() <= dots;
  const auto code =
      without_quiet_zone ? core::FailureCode::QuietZoneTooSmall : core::FailureCode::SymbolDoesNotFit;
  return {code, {{"dots", std::to_string(dots)}}, {}};
}

}  // namespace

bool SymbolChoice::sound(int dpi) const {
  return module_dots >= kSoundModuleDots && module_millimetres(dpi) >= kSoundModuleMillimetres;
}

double SymbolChoice::module_millimetres(int dpi) const {
  return module_dots * 25.4 / dpi;
}

int whole_dots(double millimetres, int dpi) {
  const double dots = std::floor(millimetres * dpi / 25.4 + 1e-6) - 1;
  return dots > 0 ? static_cast<int>(dots) : 0;
}

core::Result<SymbolChoice> choose_symbol(std::size_t characters, double side_mm, int dpi) {
  const int dots = whole_dots(side_mm, dpi);
  std::optional<SymbolChoice> largest;
  std::optional<int> least_version;
  for (ErrorCorrection level : kMostRobustFirst) {
    const auto version = smallest_version(characters, level);
    if (!version) continue;
    const SymbolChoice choice{*version, level, dots / modules_with_quiet_zone(*version)};
    if (choice.sound(dpi)) return choice;
    if (!largest || choice.module_dots > largest->module_dots) largest = choice;
    if (!least_version || *version < *least_version) least_version = version;
  }
  if (!least_version) return core::Failure{core::FailureCode::SymbolDoesNotFit, {}, {}};
  if (largest->module_dots < 1) return too_small(*least_version, dots);
  return *largest;
}

core::Result<SymbolChoice> fit_symbol(const core::SymbolForm& form, double side_mm, int dpi) {
  const int dots = whole_dots(side_mm, dpi);
  const SymbolChoice choice{form.version, form.level, dots / modules_with_quiet_zone(form.version)};
  if (choice.module_dots < 1) return too_small(form.version, dots);
  return choice;
}

}  // namespace loadlight::label
