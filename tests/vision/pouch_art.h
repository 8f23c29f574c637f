// Flat artwork of a labelled package, seen squarely: a pouch with a 50 x 25 mm label on it, all invented.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <string>

namespace loadlight::vision_tests {

// Pixels of artwork for one module of the symbol: drawn finer than any view shows it.
inline constexpr int kArtPerModule = 8;

struct PouchArt final {
  cv::Mat bgr;
  cv::Point2d symbol_top_left;  // artwork pixels
  int symbol_side = 0;          // modules
};

// A text of the length and alphabet of a package label's payload (70 to 87 characters).
std::string label_like_text(cv::RNG& rng);

// The symbol of `text` at version 4 to 6 (4-M, 5-M, 5-Q or 6-Q, whichever holds it, drawn by lot).
cv::Mat label_like_symbol(const std::string& text, cv::RNG& rng);

// The label alone, symbol on the left, lines of text beside it.
PouchArt label_art(const std::string& text, cv::RNG& rng);

// The same around modules already drawn (0 dark, 255 light, one pixel each).
PouchArt label_art_around(const cv::Mat& modules, cv::RNG& rng);

// The label on its pouch.
PouchArt pouch_art(const std::string& text, cv::RNG& rng);
PouchArt on_pouch(const PouchArt& label, cv::RNG& rng);

}  // namespace loadlight::vision_tests
