// Finder patterns as pieces of lattice: not only where one lies, but how its modules run there.
#pragma once

#include <opencv2/core.hpp>
#include <span>
#include <vector>

#include "vision/edge_points.h"
#include "vision/lattice_frame.h"

namespace loadlight::vision {

// The pattern's outer corner is the frame's origin: it covers (0, 0) to (7, 7). Which of its four corners
// that is means nothing.
struct FinderMark final {
  LatticeFrame frame;
  double likeness = 0;  // correlation with the pattern and its light surround: 1 for a perfect one

  port::PixelPoint centre() const { return frame.at(3.5, 3.5); }
};

// The finder patterns of a CV_32FC1 picture, the likest first, however they are squeezed or turned; at most
// `most`. `module` is roughly what a module measures (pixels, within a factor of 2), `hints` where else to
// look than where runs of 1:1:3:1:1 are, `edges` those of the picture. Throws what OpenCV throws.
std::vector<FinderMark> find_finder_marks(const cv::Mat& levels, double module,
                                          std::span<const port::PixelPoint> hints,
                                          std::span<const EdgePoint> edges, std::size_t most);

}  // namespace loadlight::vision
