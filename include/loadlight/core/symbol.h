// A QR Code symbol (ISO/IEC 18004 Model 2) as a grid of modules, and what is needed to draw it again.
#pragma once

#include <cstdint>
#include <string_view>
#include <optional>
#include <vector>

namespace loadlight::core {

// Error correction levels, weakest first. Stored in the record: do not change the numbers.
enum class ErrorCorrection { L = 0, M = 1, Q = 2, H = 3 };

std::string_view to_text(ErrorCorrection level);  // "L", "M", "Q", "H"
std::optional<ErrorCorrection> parse_error_correction(std::string_view text);

// What, together with the text, redraws a symbol exactly.
struct SymbolForm final {
  int version = 1;  // 1 to 40, both included; a side has 17 + 4 * version modules
  ErrorCorrection level = ErrorCorrection::M;
  int mask = 0;  // 0 to 7, both included

  int side() const { return 17 + 4 * version; }
  friend bool operator==(const SymbolForm&, const SymbolForm&) = default;
};

// Modules row by row from the top left, without the quiet zone; `dark(x, y)` with 0 <= x, y < side.
struct SymbolGrid final {
  SymbolForm form;
  std::vector<std::uint8_t> modules;  // side * side, 1 is dark

  bool dark(int x, int y) const {
    return modules[static_cast<std::size_t>(y) * static_cast<std::size_t>(form.side()) +
                   static_cast<std::size_t>(x)] != 0;
  }
  friend bool operator==(const SymbolGrid&, const SymbolGrid&) = default;
};

// The clear margin around a symbol, in modules (ISO/IEC 18004).
inline constexpr int kQuietZoneModules = 4;

// How many characters of the alphanumeric set a symbol of version 1 to 10 (both included) carries
// (ISO/IEC 18004 table 7); 0 outside that range.
int alphanumeric_capacity(int version, ErrorCorrection level);

}  // namespace loadlight::core
