#include "render/symbol_reading.h"

#include <array>
#include <sstream>
#include <stdexcept>

namespace loadlight::tests {
namespace {

using core::ErrorCorrection;
using core::SymbolGrid;

std::size_t index(int side, int x, int y) {
  return static_cast<std::size_t>(y * side + x);
}

// ISO/IEC 18004 annex E: rows and columns of alignment patterns, from memory; wrong ones would shift
// every codeword.
std::vector<int> alignment_centres(int version) {
  static const std::array<std::vector<int>, 10> kCentres{
      {{}, {6, 18}, {6, 22}, {6, 26}, {6, 30}, {6, 34}, {6, 22, 38}, {6, 24, 42}, {6, 26, 46}, {6, 28, 50}}};
  return kCentres.at(static_cast<std::size_t>(version - 1));
}

enum class Part : std::uint8_t { Data, Fixed, Format };

class PartMap final {
 public:
  explicit PartMap(int version) : side_(17 + 4 * version), parts_(static_cast<std::size_t>(side_ * side_)) {
    fill(6, 0, 1, side_, Part::Fixed);
    fill(0, 6, side_, 1, Part::Fixed);
    mark_alignment(version);
    mark_format();
    fill(0, 0, 8, 8, Part::Fixed);
    fill(side_ - 8, 0, 8, 8, Part::Fixed);
    fill(0, side_ - 8, 8, 8, Part::Fixed);
    fill(8, side_ - 8, 1, 1, Part::Fixed);  // the module that is always dark
    if (version >= 7) {
      fill(side_ - 11, 0, 3, 6, Part::Fixed);
      fill(0, side_ - 11, 6, 3, Part::Fixed);
    }
  }

  Part at(int x, int y) const { return parts_[index(side_, x, y)]; }

 private:
  void fill(int x, int y, int width, int height, Part part) {
    for (int dy = 0; dy < height; ++dy) {
      for (int dx = 0; dx < width; ++dx) parts_[index(side_, x + dx, y + dy)] = part;
    }
  }

  void mark_alignment(int version) {
    const auto centres = alignment_centres(version);
    for (int y : centres) {
      for (int x : centres) {
        const bool in_finder =
            (x == 6 && y == 6) || (x == 6 && y == centres.back()) || (x == centres.back() && y == 6);
        if (!in_finder) fill(x - 2, y - 2, 5, 5, Part::Fixed);
      }
    }
  }

  void mark_format() {
    for (int i = 0; i < 9; ++i) {
      if (i == 6) continue;
      parts_[index(side_, i, 8)] = Part::Format;
      parts_[index(side_, 8, i)] = Part::Format;
    }
    fill(side_ - 8, 8, 8, 1, Part::Format);
    fill(8, side_ - 7, 1, 7, Part::Format);
  }

  int side_;
  std::vector<Part> parts_;
};

// ISO/IEC 18004 table 10, i row and j column as the standard names them.
bool masked(int mask, int i, int j) {
  const std::array<int, 8> conditions{(i + j) % 2,
                                      i % 2,
                                      j % 3,
                                      (i + j) % 3,
                                      (i / 2 + j / 3) % 2,
                                      (i * j) % 2 + (i * j) % 3,
                                      ((i * j) % 2 + (i * j) % 3) % 2,
                                      ((i + j) % 2 + (i * j) % 3) % 2};
  return conditions.at(static_cast<std::size_t>(mask)) == 0;
}

struct BlockCount final {
  int blocks;
  int correction;  // codewords a block
};

// ISO/IEC 18004 table 9, versions 1 to 10, order L, M, Q, H; from memory, and checked by the tests
// against the published count of data codewords.
constexpr std::array<std::array<BlockCount, 4>, 10> kBlocks{{
    {{{1, 7}, {1, 10}, {1, 13}, {1, 17}}},
    {{{1, 10}, {1, 16}, {1, 22}, {1, 28}}},
    {{{1, 15}, {1, 26}, {2, 18}, {2, 22}}},
    {{{1, 20}, {2, 18}, {2, 26}, {4, 16}}},
    {{{1, 26}, {2, 24}, {4, 18}, {4, 22}}},
    {{{2, 18}, {4, 16}, {4, 24}, {4, 28}}},
    {{{2, 20}, {4, 18}, {6, 18}, {5, 26}}},
    {{{2, 24}, {4, 22}, {6, 22}, {6, 26}}},
    {{{2, 30}, {5, 22}, {8, 20}, {8, 24}}},
    {{{4, 18}, {5, 26}, {8, 24}, {8, 28}}},
}};
constexpr std::array<int, 10> kAllCodewords{26, 44, 70, 100, 134, 172, 196, 242, 292, 346};

BlockCount block_count(int version, ErrorCorrection level) {
  return kBlocks.at(static_cast<std::size_t>(version - 1)).at(static_cast<std::size_t>(level));
}

// ISO/IEC 18004 table C.1, by level L, M, Q, H and mask 0 to 7.
constexpr std::uint32_t kFormatWords[4][8] = {
    {0x77C4, 0x72F3, 0x7DAA, 0x789D, 0x662F, 0x6318, 0x6C41, 0x6976},
    {0x5412, 0x5125, 0x5E7C, 0x5B4B, 0x45F9, 0x40CE, 0x4F97, 0x4AA0},
    {0x355F, 0x3068, 0x3F31, 0x3A06, 0x24B4, 0x2183, 0x2EDA, 0x2BED},
    {0x1689, 0x13BE, 0x1CE7, 0x19D0, 0x0762, 0x0255, 0x0D0C, 0x083B}};

// ISO/IEC 18004 table 7, order L, M, Q, H.
constexpr int kCapacity[10][4] = {{25, 20, 16, 10},    {47, 38, 29, 20},     {77, 61, 47, 35},
                                  {114, 90, 67, 50},   {154, 122, 87, 64},   {195, 154, 108, 84},
                                  {224, 178, 125, 93}, {279, 221, 157, 122}, {335, 262, 189, 143},
                                  {395, 311, 221, 174}};

std::uint8_t times(std::uint8_t a, std::uint8_t b) {
  unsigned product = 0;
  for (int bit = 7; bit >= 0; --bit) {
    product = (product << 1) ^ ((product & 0x80) != 0 ? 0x11du : 0u);
    if ((b >> bit & 1) != 0) product ^= a;
  }
  return static_cast<std::uint8_t>(product);
}

class BitReader final {
 public:
  explicit BitReader(Codewords bytes) : bytes_(std::move(bytes)) {}

  std::size_t left() const { return bytes_.size() * 8 - at_; }
  int take(std::size_t count) {
    if (count > left()) throw std::runtime_error("the data end early");
    int value = 0;
    for (; count > 0; --count, ++at_) value = value << 1 | (bytes_[at_ / 8] >> (7 - at_ % 8) & 1);
    return value;
  }
  void skip_to_byte() {
    for (; at_ % 8 != 0;) {
      if (take(1) != 0) throw std::runtime_error("a filling bit is set");
    }
  }

 private:
  Codewords bytes_;
  std::size_t at_ = 0;
};

}  // namespace

std::uint32_t format_word(ErrorCorrection level, int mask) {
  return kFormatWords[static_cast<int>(level)][mask];
}

int published_capacity(int version, ErrorCorrection level) {
  return kCapacity[version - 1][static_cast<int>(level)];
}

std::string alphanumeric_sample(int length) {
  constexpr std::string_view kSet = "LL1.S0123456789ABCDEFGHIJKMNOPQRTUVWXYZ $%*+-/:";
  std::string text;
  for (int i = 0; i < length; ++i) text += kSet[static_cast<std::size_t>(i * 7 + i / 47) % kSet.size()];
  return text;
}

int mask_of(const SymbolGrid& grid) {
  for (int mask = 0; mask < 8; ++mask) {
    if (format_word(grid.form.level, mask) == first_format_word(grid)) return mask;
  }
  throw std::runtime_error("no format word of this level");
}

SymbolGrid grid_from_picture(const std::string& picture, core::SymbolForm form) {
  SymbolGrid grid{form, {}};
  for (char c : picture) {
    if (c == '#' || c == '.') grid.modules.push_back(c == '#' ? 1 : 0);
  }
  return grid;
}

std::uint32_t first_format_word(const SymbolGrid& grid) {
  std::uint32_t word = 0;
  const auto add = [&](int x, int y) { word = word << 1 | static_cast<std::uint32_t>(grid.dark(x, y)); };
  for (int x : {0, 1, 2, 3, 4, 5, 7, 8}) add(x, 8);
  for (int y : {7, 5, 4, 3, 2, 1, 0}) add(8, y);
  return word;
}

std::uint32_t second_format_word(const SymbolGrid& grid) {
  const int side = grid.form.side();
  std::uint32_t word = 0;
  for (int y = side - 1; y >= side - 7; --y) word = word << 1 | static_cast<std::uint32_t>(grid.dark(8, y));
  for (int x = side - 8; x < side; ++x) word = word << 1 | static_cast<std::uint32_t>(grid.dark(x, 8));
  return word;
}

std::vector<std::uint8_t> unmasked_data(const SymbolGrid& grid, int mask) {
  const PartMap parts{grid.form.version};
  const int side = grid.form.side();
  std::vector<std::uint8_t> data(grid.modules.size(), 2);
  for (int y = 0; y < side; ++y) {
    for (int x = 0; x < side; ++x) {
      if (parts.at(x, y) != Part::Data) continue;
      data[index(side, x, y)] = grid.dark(x, y) != masked(mask, y, x) ? 1 : 0;
    }
  }
  return data;
}

std::vector<std::uint8_t> fixed_patterns(const SymbolGrid& grid) {
  const PartMap parts{grid.form.version};
  const int side = grid.form.side();
  std::vector<std::uint8_t> fixed(grid.modules.size(), 2);
  for (int y = 0; y < side; ++y) {
    for (int x = 0; x < side; ++x) {
      if (parts.at(x, y) == Part::Fixed) fixed[index(side, x, y)] = grid.dark(x, y) ? 1 : 0;
    }
  }
  return fixed;
}

Codewords codewords_of(const SymbolGrid& grid, int mask) {
  const auto data = unmasked_data(grid, mask);
  const int side = grid.form.side();
  Codewords words;
  unsigned bits = 1;
  const auto take = [&](int x, int y) {
    const std::uint8_t module = data[index(side, x, y)];
    if (module == 2) return;
    bits = bits << 1 | module;
    if (bits < 0x100) return;
    words.push_back(static_cast<std::uint8_t>(bits & 0xff));
    bits = 1;
  };
  // Pairs of columns from the right, up and down in turn, past the vertical timing pattern.
  bool upwards = true;
  for (int right = side - 1; right > 0; right -= 2) {
    if (right == 6) --right;
    for (int i = 0; i < side; ++i) {
      const int y = upwards ? side - 1 - i : i;
      take(right, y);
      take(right - 1, y);
    }
    upwards = !upwards;
  }
  return words;
}

int data_codewords(int version, ErrorCorrection level) {
  const BlockCount count = block_count(version, level);
  return kAllCodewords.at(static_cast<std::size_t>(version - 1)) - count.blocks * count.correction;
}

std::vector<Block> blocks_of(const Codewords& placed, int version, ErrorCorrection level) {
  const BlockCount count = block_count(version, level);
  const int data = data_codewords(version, level);
  std::vector<Block> blocks(static_cast<std::size_t>(count.blocks));
  const int shorter = data / count.blocks;
  const int first_longer = count.blocks - data % count.blocks;
  std::size_t at = 0;
  for (int row = 0; row <= shorter; ++row) {
    for (int block = 0; block < count.blocks; ++block) {
      if (row == shorter && block < first_longer) continue;
      blocks[static_cast<std::size_t>(block)].data.push_back(placed.at(at++));
    }
  }
  for (int row = 0; row < count.correction; ++row) {
    for (Block& block : blocks) block.correction.push_back(placed.at(at++));
  }
  return blocks;
}

Codewords correction_of(const Codewords& data, std::size_t count) {
  Codewords generator{1};
  std::uint8_t root = 1;
  for (std::size_t i = 0; i < count; ++i) {
    generator.push_back(0);
    for (std::size_t j = generator.size() - 1; j > 0; --j) generator[j] ^= times(generator[j - 1], root);
    root = times(root, 2);
  }
  Codewords rest = data;
  rest.resize(data.size() + count);
  for (std::size_t i = 0; i < data.size(); ++i) {
    const std::uint8_t factor = rest[i];
    for (std::size_t j = 0; j < generator.size(); ++j) rest[i + j] ^= times(generator[j], factor);
  }
  return {rest.end() - static_cast<std::ptrdiff_t>(count), rest.end()};
}

std::string alphanumeric_text(const std::vector<Block>& blocks, int version) {
  constexpr std::string_view kSet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
  Codewords data;
  for (const Block& block : blocks) data.insert(data.end(), block.data.begin(), block.data.end());
  BitReader bits{data};
  if (bits.take(4) != 2) throw std::runtime_error("not the alphanumeric mode");
  int count = bits.take(version < 10 ? 9 : 11);
  std::string text;
  for (; count > 1; count -= 2) {
    const auto pair = static_cast<std::size_t>(bits.take(11));
    text += kSet.at(pair / 45);
    text += kSet.at(pair % 45);
  }
  if (count == 1) text += kSet.at(static_cast<std::size_t>(bits.take(6)));
  if (bits.take(std::min<std::size_t>(4, bits.left())) != 0) throw std::runtime_error("no terminator");
  bits.skip_to_byte();
  for (int pad = 0xec; bits.left() > 0; pad ^= 0xec ^ 0x11) {
    if (bits.take(8) != pad) throw std::runtime_error("not a pad codeword");
  }
  return text;
}

}  // namespace loadlight::tests
