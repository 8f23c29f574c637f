#include "vision/qr_structure.h"

#include <algorithm>
#include <cstdlib>
#include <mutex>

namespace loadlight::vision {
namespace {

constexpr int kFinderSide = 7;
constexpr int kTimingLine = 6;  // row and column of the timing patterns

// Lays the patterns of one version out; every module that none of them takes is a data module.
class PatternLayout final {
 public:
  explicit PatternLayout(int version) : version_(version), side_(side_of(version)) {
    modules_.side = side_;
    modules_.kinds.assign(static_cast<std::size_t>(side_ * side_), ModuleKind::Data);
  }

  FixedModules laid_out() && {
    lay_timing();
    lay_finder(0, 0);
    lay_finder(side_ - kFinderSide, 0);
    lay_finder(0, side_ - kFinderSide);
    for (const auto& middle : alignment_middles(version_)) lay_alignment(middle);
    lay_words();
    set({kFinderSide + 1, side_ - kFinderSide - 1}, ModuleKind::Dark);
    return std::move(modules_);
  }

 private:
  void set(ModulePlace place, ModuleKind kind) {
    modules_.kinds[static_cast<std::size_t>(place.y * side_ + place.x)] = kind;
  }

  void lay(ModulePlace place, bool dark) { set(place, dark ? ModuleKind::Dark : ModuleKind::Light); }

  void lay_timing() {
    for (int i = 0; i < side_; ++i) {
      lay({i, kTimingLine}, i % 2 == 0);
      lay({kTimingLine, i}, i % 2 == 0);
    }
  }

  // With the light separator around it, as far as it lies in the symbol.
  void lay_finder(int left, int top) {
    for (int y = std::max(top - 1, 0); y <= std::min(top + kFinderSide, side_ - 1); ++y) {
      for (int x = std::max(left - 1, 0); x <= std::min(left + kFinderSide, side_ - 1); ++x) {
        const int ring = std::max(std::abs(x - left - 3), std::abs(y - top - 3));
        lay({x, y}, ring != 2 && ring != 4);
      }
    }
  }

  void lay_alignment(ModulePlace middle) {
    for (int dy = -2; dy <= 2; ++dy) {
      for (int dx = -2; dx <= 2; ++dx) {
        lay({middle.x + dx, middle.y + dy}, std::max(std::abs(dx), std::abs(dy)) != 1);
      }
    }
  }

  void lay_words() {
    for (const auto& copy : format_places(version_)) {
      for (const auto& place : copy) set(place, ModuleKind::Format);
    }
    if (version_ < kFirstVersionWithWord) return;
    for (const auto& copy : version_places(version_)) {
      for (const auto& place : copy) set(place, ModuleKind::Version);
    }
  }

  int version_;
  int side_;
  FixedModules modules_;
};

// Rows and columns of alignment patterns (ISO/IEC 18004:2015, table E.1): from the last one back in even
// steps as wide as needed, and the first always at 6.
std::vector<int> alignment_lines(int version) {
  if (version < 2) return {};
  const int last = side_of(version) - 7;
  const int intervals = version / 7 + 1;
  // The table departs from its own rule once, at version 32.
  const int step = version == 32 ? 26 : (last - kTimingLine + 2 * intervals - 1) / (2 * intervals) * 2;
  std::vector<int> lines{kTimingLine};
  for (int i = intervals - 1; i >= 0; --i) lines.push_back(last - i * step);
  return lines;
}

// Columns in pairs from the right, upwards and downwards in turn, over the column of timing.
std::vector<int> zigzag(int version) {
  const auto& fixed = fixed_modules(version);
  std::vector<int> order;
  bool upwards = true;
  for (int right = fixed.side - 1; right > 0; right -= 2, upwards = !upwards) {
    if (right == kTimingLine) --right;
    for (int i = 0; i < fixed.side; ++i) {
      const int y = upwards ? fixed.side - 1 - i : i;
      for (int x : {right, right - 1}) {
        if (fixed.at(x, y) == ModuleKind::Data) order.push_back(y * fixed.side + x);
      }
    }
  }
  return order;
}

// The remainder of `value` * x^degree by the generator polynomial of that degree, over GF(2).
std::uint32_t bch_checks(std::uint32_t value, std::uint32_t generator, int degree) {
  std::uint32_t rest = value << degree;
  for (int top = 31; top >= degree; --top) {
    if ((rest >> top & 1U) != 0) rest ^= generator << (top - degree);
  }
  return rest;
}

// The two bits that stand for a level (ISO/IEC 18004:2015, table 12).
std::uint32_t level_bits(core::ErrorCorrection level) {
  switch (level) {
    case core::ErrorCorrection::L:
      return 0b01;
    case core::ErrorCorrection::M:
      return 0b00;
    case core::ErrorCorrection::Q:
      return 0b11;
    case core::ErrorCorrection::H:
      return 0b10;
  }
  return 0b00;
}

// A value for each number from 0, made when it is first asked for.
template <typename Value, std::size_t kCount>
class KeptValues final {
 public:
  template <typename Make>
  const Value& get(int number, Make make) {
    const auto i = static_cast<std::size_t>(number);
    std::call_once(made_.at(i), [&] { values_[i] = make(); });
    return values_[i];
  }

 private:
  std::array<std::once_flag, kCount> made_;
  std::array<Value, kCount> values_;
};

}  // namespace

int side_of(int version) {
  return core::SymbolForm{version, core::ErrorCorrection::L, 0}.side();
}

std::optional<int> version_of(int side) {
  if (side < side_of(1) || side > side_of(kVersions) || (side - 17) % 4 != 0) return std::nullopt;
  return (side - 17) / 4;
}

const FixedModules& fixed_modules(int version) {
  static KeptValues<FixedModules, kVersions> all;
  return all.get(version - 1, [&] { return PatternLayout(version).laid_out(); });
}

const std::vector<int>& data_order(int version) {
  static KeptValues<std::vector<int>, kVersions> all;
  return all.get(version - 1, [&] { return zigzag(version); });
}

std::vector<ModulePlace> alignment_middles(int version) {
  const auto lines = alignment_lines(version);
  std::vector<ModulePlace> middles;
  for (int y : lines) {
    for (int x : lines) {
      const bool is_under_finder = (x == lines.front() && y == lines.front()) ||
                                   (x == lines.back() && y == lines.front()) ||
                                   (x == lines.front() && y == lines.back());
      if (!is_under_finder) middles.push_back({x, y});
    }
  }
  return middles;
}

bool is_turned(int mask, int x, int y) {  // ISO/IEC 18004:2015, table 10
  switch (mask) {
    case 0:
      return (x + y) % 2 == 0;
    case 1:
      return y % 2 == 0;
    case 2:
      return x % 3 == 0;
    case 3:
      return (x + y) % 3 == 0;
    case 4:
      return (y / 2 + x / 3) % 2 == 0;
    case 5:
      return x * y % 2 + x * y % 3 == 0;
    case 6:
      return (x * y % 2 + x * y % 3) % 2 == 0;
    case 7:
      return ((x + y) % 2 + x * y % 3) % 2 == 0;
  }
  return false;
}

const std::vector<std::uint8_t>& turned_modules(int version, int mask) {
  static KeptValues<std::vector<std::uint8_t>, std::size_t{kVersions} * kMasks> all;
  return all.get((version - 1) * kMasks + mask, [&] {
    const int side = side_of(version);
    std::vector<std::uint8_t> turned;
    for (int module : data_order(version))
      turned.push_back(is_turned(mask, module % side, module / side) ? 1 : 0);
    return turned;
  });
}

std::uint16_t format_word(core::ErrorCorrection level, int mask) {  // ISO/IEC 18004:2015, 7.9 and annex C
  const std::uint32_t form = level_bits(level) << 3 | static_cast<std::uint32_t>(mask);
  return static_cast<std::uint16_t>((form << 10 | bch_checks(form, 0x537, 10)) ^ 0x5412);
}

std::array<FormatPlaces, 2> format_places(int version) {
  const int side = side_of(version);
  std::array<FormatPlaces, 2> places;
  for (int i = 0; i < 15; ++i) {  // along row 8 to the corner, then up column 8; timing is stepped over
    const auto bit = static_cast<std::size_t>(i);
    if (i < 8) places[0][bit] = {i < kTimingLine ? i : i + 1, 8};
    if (i >= 8) places[0][bit] = {8, 14 - i < kTimingLine ? 14 - i : 15 - i};
    places[1][bit] = i < 7 ? ModulePlace{8, side - 1 - i} : ModulePlace{side - 15 + i, 8};
  }
  return places;
}

std::uint32_t version_word(int version) {  // ISO/IEC 18004:2015, 7.10 and annex D
  const auto number = static_cast<std::uint32_t>(version);
  return number << 12 | bch_checks(number, 0x1F25, 12);
}

std::array<VersionPlaces, 2> version_places(int version) {
  std::array<VersionPlaces, 2> places;
  for (int i = 0; i < 18; ++i) {  // three modules wide beside a finder pattern, least significant bit first
    const auto bit = static_cast<std::size_t>(17 - i);
    const ModulePlace right{side_of(version) - 11 + i % 3, i / 3};
    places[0][bit] = right;
    places[1][bit] = {right.y, right.x};
  }
  return places;
}

}  // namespace loadlight::vision
