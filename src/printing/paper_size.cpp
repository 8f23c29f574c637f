#include "printing/paper_size.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace loadlight::printing {

std::optional<PaperSize> nearest_size(std::span<const SizeRange> sizes, double width_mm, double height_mm) {
  const int width = static_cast<int>(std::lround(width_mm * 100));
  const int height = static_cast<int>(std::lround(height_mm * 100));
  std::optional<PaperSize> nearest;
  int least = kSamePaper + 1;
  for (const SizeRange& size : sizes) {
    if (size.narrowest > size.widest || size.shortest > size.longest) continue;
    const PaperSize here{std::clamp(width, size.narrowest, size.widest),
                         std::clamp(height, size.shortest, size.longest)};
    const int apart = std::max(std::abs(here.width - width), std::abs(here.height - height));
    if (apart >= least) continue;
    least = apart;
    nearest = here;
  }
  return nearest;
}

}  // namespace loadlight::printing
