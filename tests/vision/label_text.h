// Texts in the form of our payload, for any symbol form that the office's labels take.
#pragma once

#include <opencv2/core.hpp>
#include <string>

#include "vision/drawn_symbol.h"

namespace loadlight::vision_tests {

struct LabelForm final {
  int version;
  Level level;
};

// Version 3 to 6, level M or Q, by lot.
LabelForm label_form(cv::RNG& rng);

// A payload with random fields that a symbol of this form holds: a package's where it fits, and a shelf
// tag's in 3-Q.
std::string label_text(LabelForm form, cv::RNG& rng);

}  // namespace loadlight::vision_tests
