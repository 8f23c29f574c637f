#include "render/zint_symbol.h"

namespace loadlight::tests {

core::SymbolGrid zint_symbol(const WorkFolder& folder, const std::string& text, int version,
                             core::ErrorCorrection level, const std::string& more) {
  const std::string input = folder.write("text", text);
  const std::string dump = run_or_throw("zint --barcode=58 --vers=" + std::to_string(version) +
                                        " --secure=" + std::to_string(static_cast<int>(level) + 1) +
                                        " --dump " + more + " -i " + input);
  core::SymbolGrid grid{{version, level, 0}, {}};
  for (const std::string& line : lines_of(dump)) {
    std::vector<std::uint8_t> row;
    for (char c : line) {
      if (c == ' ' || c == '\r') continue;
      const int nibble = c <= '9' ? c - '0' : c - 'A' + 10;
      for (int bit = 3; bit >= 0; --bit) row.push_back(static_cast<std::uint8_t>(nibble >> bit & 1));
    }
    row.resize(static_cast<std::size_t>(grid.form.side()));
    grid.modules.insert(grid.modules.end(), row.begin(), row.end());
  }
  return grid;
}

}  // namespace loadlight::tests
