// Which of the sizes that a printer knows is meant by a page. Private to printing.
#pragma once

#include <optional>
#include <span>

namespace loadlight::printing {

// In hundredths of a millimetre, both ends included; of a fixed size both are alike.
struct SizeRange final {
  int narrowest = 0;
  int widest = 0;
  int shortest = 0;
  int longest = 0;
};
struct PaperSize final {
  int width = 0;
  int height = 0;
};

// Makers name a roll by inches or by its bare label, templates by whole millimetres: as far apart as this they
// are the same paper.
inline constexpr int kSamePaper = 120;

// The nearest of them; nothing when none is the page's paper.
std::optional<PaperSize> nearest_size(std::span<const SizeRange> sizes, double width_mm, double height_mm);

}  // namespace loadlight::printing
