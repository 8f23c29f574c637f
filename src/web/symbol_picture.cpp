#include "web/symbol_picture.h"

namespace loadlight::web {
namespace {

constexpr auto kLevel = core::ErrorCorrection::M;
constexpr int kLargestVersion = 10;

int version_for(std::size_t length) {
  for (int version = 1; version < kLargestVersion; ++version) {
    if (core::alphanumeric_capacity(version, kLevel) >= static_cast<int>(length)) return version;
  }
  return kLargestVersion;
}

}  // namespace

core::Result<std::string> symbol_svg(const port::SymbolEncoder& encoder, std::string_view text) {
  const auto grid = encoder.encode(text, version_for(text.size()), kLevel, std::nullopt);
  if (!grid) return grid.failure();
  const int side = grid->form.side();
  const std::string whole = std::to_string(side + 2 * core::kQuietZoneModules);
  std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + whole + " " + whole +
                    "\" shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h" + whole + "v" + whole + "H0z\"/>"
                    "<path d=\"";
  for (int y = 0; y < side; ++y) {
    for (int x = 0; x < side; ++x) {
      if (!grid->dark(x, y)) continue;
      svg += "M" + std::to_string(x + core::kQuietZoneModules) + " " + std::to_string(y + core::kQuietZoneModules) +
             "h1v1h-1z";
    }
  }
  return svg + "\"/></svg>";
}

}  // namespace loadlight::web
