#include "loadlight/core/print_grade.h"

#include <algorithm>

namespace loadlight::core {
namespace {

// What a value must reach (or must not exceed) for grades 4, 3, 2 and 1.
struct Thresholds final {
  double best[4];
  bool at_least;
};

// ISO/IEC 15415:2011. Contrast, modulation and unused error correction: as quoted in a verifier's manual; the
// non-uniformities and the counts of damaged modules: from memory.
constexpr Thresholds kContrast{{0.70, 0.55, 0.40, 0.20}, true};
constexpr Thresholds kModulation{{0.50, 0.40, 0.30, 0.20}, true};
constexpr Thresholds kUnusedErrorCorrection{{0.62, 0.50, 0.37, 0.25}, true};
constexpr Thresholds kAxialNonUniformity{{0.06, 0.08, 0.10, 0.12}, false};
constexpr Thresholds kGridNonUniformity{{0.38, 0.50, 0.63, 0.75}, false};
constexpr Thresholds kDamagedModules{{0, 1, 2, 3}, false};

constexpr int kBest = 4;

int grade_by(const Thresholds& thresholds, double value) {
  for (int i = 0; i < kBest; ++i) {
    const double bound = thresholds.best[i];
    if (thresholds.at_least ? value >= bound : value <= bound) return kBest - i;
  }
  return 0;
}

// Of the worst block, if every codeword under `least` modulation were an error as well.
double unused_error_correction(const PrintMeasures& measures, double least) {
  double worst = 1;
  for (std::size_t block = 0; block < measures.check_codewords.size(); ++block) {
    const auto errors = std::count_if(
        measures.codewords.begin(), measures.codewords.end(), [&](const CodewordModulation& each) {
          return each.block == static_cast<int>(block) && (each.wrong || each.modulation < least);
        });
    const int checks = std::max(1, measures.check_codewords[block]);
    worst = std::min(worst, 1 - 2.0 * static_cast<double>(errors) / checks);
  }
  return worst;
}

// The best level for which the codewords that reach it leave as much error correction unused as that level
// asks.
int modulation_grade(const PrintMeasures& measures) {
  int best = 0;
  for (int i = 0; i < kBest; ++i) {
    const double unused = unused_error_correction(measures, kModulation.best[i]);
    best = std::max(best, std::min(kBest - i, grade_by(kUnusedErrorCorrection, unused)));
  }
  return best;
}

double least_modulation(const PrintMeasures& measures) {
  double least = 1;
  for (const CodewordModulation& each : measures.codewords) least = std::min(least, each.modulation);
  return least;
}

}  // namespace

std::vector<ParameterGrade> grades_of(const PrintMeasures& m) {
  const auto graded = [](PrintParameter parameter, const Thresholds& thresholds, double value) {
    return ParameterGrade{parameter, value, grade_by(thresholds, value)};
  };
  return {{PrintParameter::Decode, m.decoded ? 1.0 : 0.0, m.decoded ? kBest : 0},
          graded(PrintParameter::Contrast, kContrast, m.contrast),
          {PrintParameter::Modulation, least_modulation(m), modulation_grade(m)},
          graded(PrintParameter::FixedPatternDamage, kDamagedModules, m.damaged_modules),
          graded(PrintParameter::AxialNonUniformity, kAxialNonUniformity, m.axial_non_uniformity),
          graded(PrintParameter::GridNonUniformity, kGridNonUniformity, m.grid_non_uniformity),
          graded(PrintParameter::UnusedErrorCorrection, kUnusedErrorCorrection, m.unused_error_correction)};
}

int overall_grade(std::span<const ParameterGrade> grades) {
  int lowest = grades.empty() ? 0 : kBest;
  for (const ParameterGrade& each : grades) lowest = std::min(lowest, each.grade);
  return lowest;
}

std::string_view letter_of(int grade) {
  constexpr std::string_view kLetters[] = {"F", "D", "C", "B", "A"};
  return kLetters[grade >= 0 && grade <= kBest ? grade : 0];
}

}  // namespace loadlight::core
