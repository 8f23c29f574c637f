// One pouch of paper and film, flat, with its label.
#pragma once

#include "shelf_scene.h"

namespace shelf {

// Pixels of pouch art for one of the shelf: drawn finer than any view shows it.
inline constexpr double kArtScale = 2;

struct PouchArt final {
  cv::Mat bgr;
  cv::Mat alpha;  // 0 to 255, of the same size
};

PouchArt draw_pouch(const LabelledPouch& pouch, cv::RNG& random);
// A pouch seen from its paper side, without a label.
PouchArt draw_plain_pouch(cv::RNG& random);

// Smooth values about 0 of deviation `deviation`, that change over about `length` pixels.
cv::Mat smooth_field(cv::Size size, double length, double deviation, cv::RNG& random);
// Multiplies by a field of factors about 1.
void shade(cv::Mat& bgr, const cv::Mat& factors);

}  // namespace shelf
