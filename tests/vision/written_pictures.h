// Picture files of kinds that OpenCV does not write, byte by byte.
#pragma once

#include <cstdint>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace loadlight::vision_tests {

using Bytes = std::vector<std::uint8_t>;

// By OpenCV: `extension` such as ".png".
Bytes encoded(const std::string& extension, const cv::Mat& picture, const std::vector<int>& options = {});

// A JPEG with an EXIF orientation (1 to 8; others are written too) put into it.
Bytes with_orientation(const Bytes& jpeg, int orientation);

// The picture that a camera held so would store: turned back by `orientation`, the viewer turns it upright.
cv::Mat stored_for(const cv::Mat& upright, int orientation);

// A baseline JPEG in CMYK (as Adobe writes it: inverted), each pixel of `gray` as one block of 8 x 8.
Bytes cmyk_jpeg(const cv::Mat& gray);

// An animated WebP of stills of one size, lossless.
Bytes animated_webp(const std::vector<cv::Mat>& frames);

// A PNG header that claims a size, and nothing behind it but an end.
Bytes png_claiming(std::uint32_t width, std::uint32_t height);

}  // namespace loadlight::vision_tests
