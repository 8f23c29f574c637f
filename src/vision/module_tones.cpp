#include "vision/module_tones.h"

namespace loadlight::vision {
namespace {

constexpr int kPitch = 2;   // modules from one place where tones are taken to the next
constexpr int kRounds = 3;  // of two means

struct Pair final {
  double black = 0;
  double white = 0;
};

Pair two_means(const std::vector<double>& levels) {
  if (levels.empty()) return {};
  double sum = 0;
  for (const double level : levels) sum += level;
  double limit = sum / static_cast<double>(levels.size());
  Pair pair{limit, limit};
  for (int round = 0; round < kRounds; ++round) {
    double dark = 0;
    double light = 0;
    std::size_t darks = 0;
    for (const double level : levels) {
      const bool is_dark = level < limit;
      (is_dark ? dark : light) += level;
      darks += is_dark;
    }
    if (darks == 0 || darks == levels.size()) break;
    pair = {dark / static_cast<double>(darks), light / static_cast<double>(levels.size() - darks)};
    limit = (pair.black + pair.white) / 2;
  }
  return pair;
}

Pair tones_at(const ModulePlane& levels, const ModulePlane& trust, int x, int y, int around) {
  std::vector<double> near;
  near.reserve(static_cast<std::size_t>((2 * around + 1) * (2 * around + 1)));
  for (int j = std::max(0, y - around); j <= std::min(levels.side - 1, y + around); ++j) {
    for (int i = std::max(0, x - around); i <= std::min(levels.side - 1, x + around); ++i) {
      if (trust.at(i, j) > 0) near.push_back(levels.at(i, j));
    }
  }
  return two_means(near);
}

double between(const ModulePlane& coarse, double x, double y) {
  const int column = std::min(static_cast<int>(x), coarse.side - 2);
  const int row = std::min(static_cast<int>(y), coarse.side - 2);
  const double right = x - column;
  const double below = y - row;
  return (coarse.at(column, row) * (1 - right) + coarse.at(column + 1, row) * right) * (1 - below) +
         (coarse.at(column, row + 1) * (1 - right) + coarse.at(column + 1, row + 1) * right) * below;
}

}  // namespace

ModuleTones tones_of(const ModulePlane& levels, const ModulePlane& trust, int around) {
  const int places = std::max(2, levels.side / kPitch + 1);
  ModuleTones coarse{ModulePlane{places}, ModulePlane{places}};
  for (int y = 0; y < places; ++y) {
    for (int x = 0; x < places; ++x) {
      const auto pair = tones_at(levels, trust, std::min(x * kPitch, levels.side - 1),
                                 std::min(y * kPitch, levels.side - 1), around);
      coarse.black.at(x, y) = pair.black;
      coarse.white.at(x, y) = pair.white;
    }
  }
  ModuleTones tones{ModulePlane{levels.side}, ModulePlane{levels.side}};
  for (int y = 0; y < levels.side; ++y) {
    for (int x = 0; x < levels.side; ++x) {
      tones.black.at(x, y) = between(coarse.black, x / double{kPitch}, y / double{kPitch});
      tones.white.at(x, y) = between(coarse.white, x / double{kPitch}, y / double{kPitch});
    }
  }
  return tones;
}

double usual_contrast(const ModuleTones& tones) {
  std::vector<double> contrasts(tones.white.values.size());
  for (std::size_t i = 0; i < contrasts.size(); ++i) {
    contrasts[i] = tones.white.values[i] - tones.black.values[i];
  }
  return median_of(std::move(contrasts));
}

}  // namespace loadlight::vision
