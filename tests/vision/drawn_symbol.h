// QR symbols drawn for tests by libqrencode.
#pragma once

#include <opencv2/core.hpp>
#include <string>

namespace loadlight::vision_tests {

enum class Level { L, M, Q, H };

// Modules as pixels, 0 dark and 255 light, without a quiet zone. Throws std::invalid_argument when the
// text does not fit.
cv::Mat drawn_symbol(const std::string& text, int version, Level level);

// The same, enlarged to `module` pixels a module, with a quiet zone of `quiet` modules.
cv::Mat enlarged(const cv::Mat& symbol, int module, int quiet);

}  // namespace loadlight::vision_tests
