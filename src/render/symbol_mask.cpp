#include "render/symbol_mask.h"

#include <array>

namespace loadlight::render {
namespace {

struct Cell final {
  int x;
  int y;
};

// Where bit `i` (0 is the least significant) of the format information stands around the top left
// finder; ISO/IEC 18004 figure 25.
constexpr std::array<Cell, 15> kFirstCopy{{{8, 0},
                                           {8, 1},
                                           {8, 2},
                                           {8, 3},
                                           {8, 4},
                                           {8, 5},
                                           {8, 7},
                                           {8, 8},
                                           {7, 8},
                                           {5, 8},
                                           {4, 8},
                                           {3, 8},
                                           {2, 8},
                                           {1, 8},
                                           {0, 8}}};

// The second copy: bits 0 to 7 along the top right finder, 8 to 14 up the bottom left one.
Cell second_copy(int bit, int side) {
  return bit < 8 ? Cell{side - 1 - bit, 8} : Cell{8, side - 15 + bit};
}

// ISO/IEC 18004 table 25 (format information): L 01, M 00, Q 11, H 10.
std::uint32_t level_bits(core::ErrorCorrection level) {
  switch (level) {
    case core::ErrorCorrection::L:
      return 1;
    case core::ErrorCorrection::M:
      return 0;
    case core::ErrorCorrection::Q:
      return 3;
    case core::ErrorCorrection::H:
      return 2;
  }
  return 0;
}

std::uint8_t& module_at(core::SymbolGrid& grid, Cell cell) {
  return grid.modules[static_cast<std::size_t>(cell.y * grid.form.side() + cell.x)];
}

void write_format(core::SymbolGrid& grid) {
  const std::uint32_t bits = format_bits(grid.form.level, grid.form.mask);
  for (int i = 0; i < 15; ++i) {
    const auto bit = static_cast<std::uint8_t>((bits >> i) & 1);
    module_at(grid, kFirstCopy[static_cast<std::size_t>(i)]) = bit;
    module_at(grid, second_copy(i, grid.form.side())) = bit;
  }
}

}  // namespace

bool mask_turns(int mask, int x, int y) {
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
      return (x * y) % 2 + (x * y) % 3 == 0;
    case 6:
      return ((x * y) % 2 + (x * y) % 3) % 2 == 0;
    case 7:
      return ((x + y) % 2 + (x * y) % 3) % 2 == 0;
  }
  return false;
}

std::uint32_t format_bits(core::ErrorCorrection level, int mask) {
  const std::uint32_t data = level_bits(level) << 3 | static_cast<std::uint32_t>(mask);
  std::uint32_t remainder = data << 10;
  for (int bit = 14; bit >= 10; --bit) {
    if ((remainder >> bit & 1) != 0) remainder ^= 0x537u << (bit - 10);
  }
  return (data << 10 | remainder) ^ 0x5412u;
}

int mask_written_in(const core::SymbolGrid& grid) {
  std::uint32_t bits = 0;
  for (int i = 0; i < 15; ++i) {
    const Cell cell = kFirstCopy[static_cast<std::size_t>(i)];
    bits |= static_cast<std::uint32_t>(grid.dark(cell.x, cell.y)) << i;
  }
  return static_cast<int>((bits ^ 0x5412u) >> 10 & 7);
}

void change_mask(core::SymbolGrid& grid, const std::vector<bool>& is_data, int mask) {
  const int side = grid.form.side();
  for (int y = 0; y < side; ++y) {
    for (int x = 0; x < side; ++x) {
      const bool turn = mask_turns(grid.form.mask, x, y) != mask_turns(mask, x, y);
      if (turn && is_data[static_cast<std::size_t>(y * side + x)]) module_at(grid, {x, y}) ^= 1;
    }
  }
  grid.form.mask = mask;
  write_format(grid);
}

}  // namespace loadlight::render
