// A modelled shelf: pouches with labels standing on boards, seen squarely. All invented; the same labels give
// the same shelf every time.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace shelf {

inline constexpr double kPixelsPerMillimetre = 5;
inline constexpr int kShelfHeight = 720;  // pixels, from one board to the next

enum class Harm {
  None,
  Taped,   // a strip of tape lies over part of the symbol
  Torn,    // the label's right edge is torn away, and some of the symbol with it
  Hidden,  // another pouch stands before it
};

struct LabelledPouch final {
  cv::Mat label;         // blue, green, red; its symbol at the right
  double width_mm = 57;  // of the label
  Harm harm = Harm::None;
};

struct Shelf final {
  cv::Mat tag;  // may be empty
  double tag_width_mm = 60;
  std::vector<LabelledPouch> pouches;
};

// Shelves one below the other, as wide as the longest and no narrower than `least_width` pixels. Tags stand
// where a sweep along one shelf and back along the next meets them first: left, then right.
cv::Mat draw_shelves(const std::vector<Shelf>& shelves, int least_width);

}  // namespace shelf
