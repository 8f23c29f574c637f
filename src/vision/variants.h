// Other renderings of one view, for a reader that could not make out the view itself.
#pragma once

#include <opencv2/core.hpp>
#include <span>
#include <string_view>
#include <vector>

namespace loadlight::vision {

// A rendering whose sides are `scale` times those of the view it is made from.
struct Variant final {
  std::string_view name;
  double scale;
  cv::Mat (*render)(const cv::Mat& gray);
};

// In the order in which they are worth trying: what helps most often for its cost comes first.
std::span<const Variant> variants();

// For grain: the noise of a dark picture averages out before the edges do.
cv::Mat smoothed(const cv::Mat& gray);

cv::Mat unsharp(const cv::Mat& gray);

// Unsharp mask, then doubled: undoes a defocus of about a pixel.
cv::Mat sharpened(const cv::Mat& gray);

// The same for what is blurred by half a module, of modules of three pixels and more.
cv::Mat much_sharpened(const cv::Mat& gray);

// For modules of one to two pixels: a light unsharp mask, then three times the size.
cv::Mat tripled(const cv::Mat& gray);

// Whether most neighbours in a row differ by more than print, paper and their edges make them.
bool is_noisy(const cv::Mat& gray);

// Whether all its grey levels lie close together, but for the few darkest and lightest.
bool is_pale(const cv::Mat& gray);

// A rendering of a whole picture in which finders may show that the picture itself hides.
struct Rendering final {
  std::string_view name;
  double scale;  // as Variant has it
  cv::Mat (*render)(const cv::Mat& gray);
  int darker;  // as find_finder_spots() takes it
};

// In the order in which they are worth trying on this picture: a noisy one is smoothed first.
std::vector<Rendering> renderings_for_finders(const cv::Mat& gray);

}  // namespace loadlight::vision
