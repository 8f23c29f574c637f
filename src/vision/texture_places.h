// Where symbols may lie, told by their texture alone: as many edges along as across, close together, in an
// area about as high as wide. For symbols whose finders are hidden, bent or too small to be told.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "vision/quadrilateral.h"

namespace loadlight::vision {

// How closely textures are looked at: coarsely costs a quarter, finely is for modules of hardly a pixel.
enum class Grains { All, Coarse, Fine };

// The likeliest first, at most `most`. Of a CV_8UC1 picture. Throws what OpenCV throws.
std::vector<Quadrilateral> texture_places(const cv::Mat& gray, std::size_t most, Grains grains = Grains::All);

}  // namespace loadlight::vision
