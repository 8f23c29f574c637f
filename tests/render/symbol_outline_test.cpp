#include "render/symbol_outline.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "loadlight/render/render.h"

using namespace loadlight;
using render::Outline;

namespace {

// How often an outline set winds around the middle of module (x, y): crossings of a ray to the left.
int winding(const std::vector<Outline>& outlines, int x, int y) {
  int count = 0;
  for (const Outline& outline : outlines) {
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const auto& from = outline[i];
      const auto& to = outline[(i + 1) % outline.size()];
      if (from.x != to.x || from.x > x) continue;
      const int low = std::min(from.y, to.y);
      const int high = std::max(from.y, to.y);
      if (y >= low && y < high) count += from.y > to.y ? 1 : -1;
    }
  }
  return count;
}

}  // namespace

TEST_CASE("Outlines wind once around every dark module and around no light one") {
  const auto encoder = render::make_symbol_encoder();
  for (int version : {1, 5, 7}) {
    const auto grid = encoder->encode("LL1.S0123456789", version, core::ErrorCorrection::M, std::nullopt);
    REQUIRE(grid);
    const auto outlines = render::outlines_of(*grid);
    int wrong = 0;
    for (int y = 0; y < grid->form.side(); ++y) {
      for (int x = 0; x < grid->form.side(); ++x) {
        wrong += winding(outlines, x, y) != (grid->dark(x, y) ? 1 : 0) ? 1 : 0;
      }
    }
    CHECK(wrong == 0);
  }
}

TEST_CASE("A corner's inward direction points to dark") {
  core::SymbolGrid grid{{1, core::ErrorCorrection::L, 0}, std::vector<std::uint8_t>(21 * 21)};
  grid.modules[0] = 1;       // (0, 0)
  grid.modules[21 + 1] = 1;  // (1, 1), touching at a corner only
  const auto outlines = render::outlines_of(grid);
  REQUIRE(outlines.size() == 2);
  for (const Outline& outline : outlines) {
    CHECK(outline.size() == 4);
    for (const auto& corner : outline) {
      const int x = corner.inward_x > 0 ? corner.x : corner.x - 1;
      const int y = corner.inward_y > 0 ? corner.y : corner.y - 1;
      REQUIRE((x >= 0 && y >= 0));
      CHECK(grid.dark(x, y));
    }
  }
}

TEST_CASE("A blank symbol has no outline") {
  const core::SymbolGrid grid{{1, core::ErrorCorrection::L, 0}, std::vector<std::uint8_t>(21 * 21)};
  CHECK(render::outlines_of(grid).empty());
}
