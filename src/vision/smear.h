// What motion along a row or a column does to a picture: how far it smears, and the picture without that.
#pragma once

#include <opencv2/core.hpp>

namespace loadlight::vision {

// A straight smear of even strength, along the rows or along the columns.
struct Smear final {
  double length = 0;  // pixels; 0: none that can be told from what blurs otherwise
  bool is_upright = false;
};

// From about 3 pixels to 20. Steps from pixel to pixel are likest to their own opposite at the smear's
// length: an edge comes and goes there. Of a CV_8UC1 picture; throws what OpenCV throws, as all here.
Smear smear_of(const cv::Mat& gray);

// A CV_8UC1 picture as it would be without the smear, as far as its noise lets it (Wiener's filter).
cv::Mat without_smear(const cv::Mat& gray, const Smear& smear);

}  // namespace loadlight::vision
