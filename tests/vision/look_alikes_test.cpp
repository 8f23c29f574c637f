#include "vision/look_alikes.h"

#include <catch2/catch.hpp>
#include <iostream>
#include <opencv2/imgproc.hpp>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"

namespace loadlight::vision_tests {

TEST_CASE("What only looks like a QR symbol is not read, as drawn and as a camera sees it") {
  const auto reader = vision::make_symbol_reader();
  cv::RNG rng(44000);
  int tried = 0;
  for (const auto& picture : look_alikes(rng)) {
    cv::Mat seen;
    cv::GaussianBlur(picture.gray, seen, {}, 1.1);
    cv::Mat grain(seen.size(), CV_8UC1);
    rng.fill(grain, cv::RNG::NORMAL, 8, 6);
    seen += grain;
    INFO(picture.name);
    CHECK(reader->read(view_of(picture.gray)).empty());
    CHECK(reader->read(view_of(seen)).empty());
    tried += 2;
  }
  std::cout << "look-alikes: " << tried << ", none read\n";
}

}  // namespace loadlight::vision_tests
