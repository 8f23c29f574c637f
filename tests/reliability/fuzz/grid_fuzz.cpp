// A symbol as a picture shows it, module by module: form and codewords come first, then damage: pairs of a place and
// what is seen there. Or every module as the bytes have it.
//
// Promises: a grid that is decoded is one that decodes as the same text when nothing is damaged; its form fits its
// size, its text is UTF-8; however the modules lie, nothing that holds no number is decoded.
#include <cmath>

#include "fuzz_input.h"
#include "vision/grid_decoder.h"
#include "vision/qr_blocks.h"
#include "vision/qr_structure.h"
#include "vision/valid_utf8.h"

namespace loadlight::fuzz {
namespace {

using namespace vision;

// Modules as the bytes have them, a value each, over and over.
SoftGrid grid_of(Input input) {
  const int version = 1 + static_cast<int>(input.choice(6));
  SoftGrid grid{side_of(version), {}};
  const std::string_view bytes = input.rest();
  const FixedModules& fixed = fixed_modules(version);
  for (std::size_t i = 0; i < fixed.kinds.size(); ++i) {
    const auto byte = bytes.empty() ? '\0' : bytes[i / 8 % bytes.size()];
    const bool dark = (static_cast<unsigned char>(byte) >> (i % 8) & 1) != 0;
    grid.dark.push_back(fixed.kinds[i] == ModuleKind::Dark    ? 6.0F
                        : fixed.kinds[i] == ModuleKind::Light ? -6.0F
                                                              : dark ? 6.0F : -6.0F);
  }
  return grid;
}

SoftGrid as_printed(const core::SymbolGrid& symbol) {
  SoftGrid grid{symbol.form.side(), {}};
  for (const std::uint8_t dark : symbol.modules) grid.dark.push_back(dark != 0 ? 6.0F : -6.0F);
  return grid;
}

// A symbol of codewords from the input, its check codewords as they come: seeds hold whole ones.
SoftGrid symbol_of(Input& input) {
  const core::SymbolForm form{1 + static_cast<int>(input.choice(6)),
                              static_cast<core::ErrorCorrection>(input.choice(4)), static_cast<int>(input.choice(8))};
  std::vector<std::uint8_t> codewords(static_cast<std::size_t>(codewords_of(form.version)));
  for (std::uint8_t& codeword : codewords) codeword = input.byte();
  return as_printed(drawn(form, codewords));
}

void damage(SoftGrid& grid, Input& input) {
  constexpr float kSeen[] = {0, 8, -8, 2, -2, NAN, INFINITY, 1e30F};
  for (int left = 200; left > 0 && !input.at_end(); --left) {
    const std::size_t at = (input.byte() * 256U + input.byte()) % grid.dark.size();
    grid.dark[at] = kSeen[input.choice(std::size(kSeen))];
  }
}

void must_hold(const SoftGrid& seen, const DecodedGrid& decoded) {
  promise(is_sound(seen), "a grid that holds no numbers is nothing");
  promise(decoded.grid.form.side() == seen.side, "a form fits its size");
  promise(!decoded.text.empty() && valid_utf8(decoded.text) == decoded.text, "a text is UTF-8");
  const auto clean = decode_grid(as_printed(decoded.grid));
  promise(clean && clean->text == decoded.text && clean->grid == decoded.grid, "what is decoded is what was printed");
}

void decode(const SoftGrid& grid) {
  if (const auto decoded = decode_grid(grid)) must_hold(grid, *decoded);
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight::fuzz;
  Input input{data, size};
  if (input.choice(4) == 3) {
    decode(grid_of(input));
    return 0;
  }
  auto grid = symbol_of(input);
  decode(grid);
  damage(grid, input);
  decode(grid);
  return 0;
}
