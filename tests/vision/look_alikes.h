// Pictures that look like QR symbols, or like nothing, and must not be read as any.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace loadlight::vision_tests {

struct LookAlike final {
  std::string name;
  cv::Mat gray;
};

// Drawn by lot from `rng`, of every sort several.
std::vector<LookAlike> look_alikes(cv::RNG& rng);

}  // namespace loadlight::vision_tests
