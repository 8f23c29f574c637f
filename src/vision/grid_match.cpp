// What may a symbol that is none of the candidates share with one? Labels of one load begin with the same
// text: whole blocks, their check codewords included, can be the same, and in the others most data. Only one
// thing is sure: in at least one block the data differ, and there the check codewords are as good as random.
// So each block has to be told by its check codewords alone; data can only speak against a candidate. Under
// random check codewords the likelihood ratio of a block has the mean 1 however badly the likelihoods are
// calibrated and however noise goes from module to module, so a wrong candidate passes 10^n less than once in
// 10^n symbols (Markov's inequality).
#include "vision/grid_match.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "vision/qr_blocks.h"
#include "vision/qr_structure.h"

namespace loadlight::vision {
namespace {

// Against another candidate the ratio does rest on calibration: likelihoods twice as sure as they should be,
// and pairs of neighbouring modules that err together, are allowed for.
constexpr double kTrust = 0.5;

constexpr double kNone = -std::numeric_limits<double>::infinity();
const double kDecadesABit = std::log10(2.0);

class Match final {
 public:
  explicit Match(const SoftGrid& seen) : seen_(seen) {}

  // All that speaks for a symbol rather than for random modules, in bits.
  double likelihood(const core::SymbolGrid& symbol) {
    const auto& seen = unmasked(symbol.form.mask);
    const auto codewords = codewords_in(symbol);
    double bits = 0;
    for (std::size_t i = 0; i < seen.size(); ++i) bits += evidence(seen[i], codewords[i]);
    return bits;
  }

  // Of the block that is told worst, by its check codewords and what data speak against it, in bits.
  double least_block(const core::SymbolGrid& symbol) {
    const auto codewords = codewords_in(symbol);
    double least = std::numeric_limits<double>::infinity();
    for (const auto& block : blocks_of(symbol.form.version, symbol.form.level)) {
      least = std::min(least, told(block, codewords, unmasked(symbol.form.mask)));
    }
    return least;
  }

 private:
  static double told(const Block& block, const std::vector<std::uint8_t>& codewords,
                     const std::vector<SoftCodeword>& seen) {
    double data = 0;
    double checks = 0;
    for (std::size_t i = 0; i < block.places.size(); ++i) {
      const auto place = static_cast<std::size_t>(block.places[i]);
      (static_cast<int>(i) < block.data() ? data : checks) += evidence(seen[place], codewords[place]);
    }
    return checks + std::min(data, 0.0);
  }

  const std::vector<SoftCodeword>& unmasked(int mask) {
    auto& seen = unmasked_.at(static_cast<std::size_t>(mask));
    if (seen.empty()) seen = soft_codewords(seen_, mask);
    return seen;
  }

  const SoftGrid& seen_;
  std::array<std::vector<SoftCodeword>, kMasks> unmasked_;
};

bool is_of_size(const core::SymbolGrid& symbol, const SoftGrid& seen) {
  return symbol.form.version >= 1 && symbol.form.side() == seen.side && symbol.form.mask >= 0 &&
         symbol.form.mask < kMasks && symbol.modules.size() == seen.dark.size();
}

}  // namespace

std::optional<GridLikelihood> match_grid(const SoftGrid& seen, std::span<const core::SymbolGrid> candidates) {
  if (!is_sound(seen)) return std::nullopt;
  Match match(seen);
  GridLikelihood result;
  double best = kNone;
  double second = kNone;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    if (!is_of_size(candidates[i], seen)) continue;
    const double bits = match.likelihood(candidates[i]);
    second = std::max(second, std::min(bits, best));
    if (bits > best) result.candidate = i;
    best = std::max(best, bits);
  }
  if (best == kNone) return std::nullopt;
  result.over_second = (best - second) * kTrust * kDecadesABit;
  result.over_chance = match.least_block(candidates[result.candidate]) * kDecadesABit;
  return result;
}

}  // namespace loadlight::vision
