// Generalised minimum distance decoding: ever more of the least certain codewords are taken as erasures until
// the rest fits a codeword of the code.
//
// How certain is a block? One that is beyond repair is, for the code, a random word. With n codewords, c of
// them checks, one in 256^(c - e) / C(n, e) random words at most has a codeword of the code within e places.
// With v erased ones left out of n and c that is one in 256^(c - v - e) / C(n - v, e); but the codewords that
// are then filled in for erased ones are random as well, and that they fit what the modules show with a
// likelihood ratio of 2^b against random bits happens once in 2^b at most (Markov's inequality), however well
// the likelihoods are calibrated: the two multiply. The certainty is the better of both counts in bits.
#include "vision/block_decoder.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "vision/reed_solomon.h"

namespace loadlight::vision {
namespace {

constexpr int kReserve = 2;  // check codewords that are spent neither on erasures nor on errors

// At most 15 tries for a block, so that a block beyond repair passes less than once in a million.
constexpr double kLeastCertainty = 24;

double log2_of_choices(int n, int k) {
  double bits = 0;
  for (int i = 1; i <= k; ++i) bits += std::log2(static_cast<double>(n - k + i) / i);
  return bits;
}

class BlockDecoder final {
 public:
  BlockDecoder(std::span<const SoftCodeword> block, int checks)
      : block_(block), checks_(checks), doubtful_(block.size()) {
    std::iota(doubtful_.begin(), doubtful_.end(), 0);
    std::stable_sort(doubtful_.begin(), doubtful_.end(),
                     [&](int a, int b) { return at(a).doubt > at(b).doubt; });
  }

  std::optional<DecodedBlock> decoded() const {
    const int most = checks_ - kReserve;
    const auto unknown = static_cast<int>(std::count_if(
        block_.begin(), block_.end(), [](const SoftCodeword& c) { return c.has_unknown_module; }));
    for (int erased = std::min(unknown, most); erased <= most; erased += 2) {
      auto result = with_erased(erased);
      if (result && result->certainty >= kLeastCertainty) return result;
    }
    return std::nullopt;
  }

 private:
  const SoftCodeword& at(int i) const { return block_[static_cast<std::size_t>(i)]; }

  std::optional<DecodedBlock> with_erased(int count) const {
    DecodedBlock result;
    for (const auto& codeword : block_) result.codewords.push_back(codeword.value);
    const auto erasures = std::span(doubtful_).first(static_cast<std::size_t>(count));
    const auto correction = correct(result.codewords, checks_, erasures);
    if (!correction || 2 * correction->errors + count > checks_ - kReserve) return std::nullopt;
    result.erased = correction->changed.empty() ? 0 : count;
    result.certainty = std::max(chance_bits(0, static_cast<int>(correction->changed.size())),
                                chance_bits(count, correction->errors) + evidence_of(erasures, result));
    return result;
  }

  // How rare it is, in bits, that a random word passes with so many erased and so many wrong.
  double chance_bits(int erased, int errors) const {
    return 8.0 * (checks_ - erased - errors) -
           log2_of_choices(static_cast<int>(block_.size()) - erased, errors);
  }

  double evidence_of(std::span<const int> erasures, const DecodedBlock& result) const {
    double bits = 0;
    for (int i : erasures) bits += evidence(at(i), result.codewords[static_cast<std::size_t>(i)]);
    return bits;
  }

  std::span<const SoftCodeword> block_;
  int checks_;
  std::vector<int> doubtful_;  // positions, the least certain first
};

}  // namespace

std::optional<DecodedBlock> decode_block(std::span<const SoftCodeword> block, int checks) {
  return BlockDecoder(block, checks).decoded();
}

}  // namespace loadlight::vision
