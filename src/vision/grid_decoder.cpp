#include "vision/grid_decoder.h"

#include <algorithm>
#include <cmath>

#include "vision/block_decoder.h"
#include "vision/qr_blocks.h"
#include "vision/qr_structure.h"
#include "vision/qr_text.h"

namespace loadlight::vision {
namespace {

// Share of the known modules of fixed patterns that may be wrong. Random modules are half wrong, and the
// smallest symbol has over 200 of them; a whole finder pattern covered makes up less than a sixth.
constexpr double kMostWrongPatterns = 0.3;

// Share of all known modules that may be wrong once the symbol is corrected. A last word only: what damage and
// random data come to is decided block by block (block_decoder.cpp).
constexpr double kMostWrongModules = 0.3;

constexpr std::size_t kMostFormats = 3;  // that are tried
constexpr float kCloseFormat = 16;       // by as much less than the best one a format may fit
constexpr float kMostFormatEvidence = 4;

struct Share final {
  int wrong = 0;
  int known = 0;

  void add(float dark, bool is_dark) {
    known += dark != 0 ? 1 : 0;
    wrong += dark != 0 && (dark > 0) != is_dark ? 1 : 0;
  }
  bool exceeds(double share) const { return wrong > share * known; }
};

bool has_patterns(const SoftGrid& grid, int version) {
  const auto& kinds = fixed_modules(version).kinds;
  Share share;
  for (std::size_t i = 0; i < kinds.size(); ++i) {
    if (kinds[i] == ModuleKind::Dark) share.add(grid.dark[i], true);
    if (kinds[i] == ModuleKind::Light) share.add(grid.dark[i], false);
  }
  return !share.exceeds(kMostWrongPatterns);
}

bool fits(const SoftGrid& grid, const core::SymbolGrid& symbol) {
  Share share;
  for (std::size_t i = 0; i < grid.dark.size(); ++i) share.add(grid.dark[i], symbol.modules[i] != 0);
  return !share.exceeds(kMostWrongModules);
}

// What both copies say together of each bit of the format, most significant first.
std::array<float, 15> format_evidence(const SoftGrid& grid, int version) {
  std::array<float, 15> bits{};
  for (const auto& copy : format_places(version)) {
    for (std::size_t i = 0; i < copy.size(); ++i) {
      bits[i] += std::clamp(grid.at(copy[i].x, copy[i].y), -kMostFormatEvidence, kMostFormatEvidence);
    }
  }
  return bits;
}

float correlation(const std::array<float, 15>& bits, std::uint16_t word) {
  float sum = 0;
  for (std::size_t i = 0; i < bits.size(); ++i) sum += (word >> (14 - i) & 1U) != 0 ? bits[i] : -bits[i];
  return sum;
}

// The forms that fit the format information best, best first.
std::vector<core::SymbolForm> likely_forms(const SoftGrid& grid, int version) {
  using enum core::ErrorCorrection;
  const auto bits = format_evidence(grid, version);
  std::vector<std::pair<float, core::SymbolForm>> forms;
  for (auto level : {L, M, Q, H}) {
    for (int mask = 0; mask < kMasks; ++mask) {
      forms.push_back({correlation(bits, format_word(level, mask)), {version, level, mask}});
    }
  }
  std::partial_sort(forms.begin(), forms.begin() + kMostFormats, forms.end(),
                    [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<core::SymbolForm> likely;
  for (std::size_t i = 0; i < kMostFormats; ++i) {
    if (forms[i].first >= forms[0].first - kCloseFormat) likely.push_back(forms[i].second);
  }
  return likely;
}

// Takes the blocks together as they are decoded.
class SymbolDecoder final {
 public:
  SymbolDecoder(const SoftGrid& grid, const core::SymbolForm& form)
      : grid_(grid), form_(form), seen_(soft_codewords(grid, form.mask)), codewords_(seen_.size()) {}

  std::optional<DecodedGrid> decoded() {
    for (const auto& block : blocks_of(form_.version, form_.level)) {
      if (!take(block)) return std::nullopt;
    }
    auto text = text_of(data_, form_.version);
    if (!text) return std::nullopt;
    result_.text = std::move(*text);
    result_.grid = drawn(form_, codewords_);
    if (!fits(grid_, result_.grid)) return std::nullopt;
    for (std::size_t i = 0; i < seen_.size(); ++i) result_.wrong.push_back(seen_[i].value != codewords_[i]);
    return std::move(result_);
  }

 private:
  bool take(const Block& block) {
    std::vector<SoftCodeword> seen;
    for (int place : block.places) seen.push_back(seen_[static_cast<std::size_t>(place)]);
    const auto decoded = decode_block(seen, block.checks);
    if (!decoded) return false;
    BlockDamage damage{static_cast<int>(seen.size()), block.checks, decoded->erased, 0};
    for (std::size_t i = 0; i < seen.size(); ++i) {
      codewords_[static_cast<std::size_t>(block.places[i])] = decoded->codewords[i];
      damage.wrong += decoded->codewords[i] != seen[i].value ? 1 : 0;
    }
    data_.insert(data_.end(), decoded->codewords.begin(), decoded->codewords.begin() + block.data());
    const bool is_first = result_.blocks.empty();
    result_.certainty = is_first ? decoded->certainty : std::min(result_.certainty, decoded->certainty);
    result_.blocks.push_back(damage);
    return true;
  }

  const SoftGrid& grid_;
  core::SymbolForm form_;
  std::vector<SoftCodeword> seen_;
  std::vector<std::uint8_t> codewords_;  // corrected, in the symbol's order
  std::vector<std::uint8_t> data_;       // corrected, block after block
  DecodedGrid result_;
};

}  // namespace

std::optional<DecodedGrid> decode_grid(const SoftGrid& grid) {
  if (!is_sound(grid)) return std::nullopt;
  const int version = *version_of(grid.side);
  if (!has_patterns(grid, version)) return std::nullopt;
  for (const auto& form : likely_forms(grid, version)) {
    if (auto decoded = SymbolDecoder(grid, form).decoded()) return decoded;
  }
  return std::nullopt;
}

}  // namespace loadlight::vision
