#include "vision/smear.h"

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "vision/camera_view.h"

namespace loadlight::vision_tests {
namespace {

// Labels of two pixels a module, in good sight.
cv::Mat labels() {
  cv::RNG rng(72);
  Harms harms;
  harms.module = 2;
  return shelf_view(4, 3, harms, rng, {800, 480}).gray;
}

cv::Mat smeared(const cv::Mat& gray, int length, bool is_upright) {
  cv::Mat result;
  cv::blur(gray, result, is_upright ? cv::Size(1, length) : cv::Size(length, 1));
  return result;
}

}  // namespace

TEST_CASE("How far and which way a picture smears is told from the picture") {
  const auto gray = labels();
  CHECK(vision::smear_of(gray).length == 0);
  for (const int length : {4, 6, 9, 13}) {
    for (const bool is_upright : {false, true}) {
      CAPTURE(length, is_upright);
      const auto smear = vision::smear_of(smeared(gray, length, is_upright));
      CHECK(smear.is_upright == is_upright);
      CHECK(smear.length == Approx(length).margin(0.5));
    }
  }
}

TEST_CASE("Without its smear a picture is nearer to what it was") {
  const auto gray = labels();
  for (const bool is_upright : {false, true}) {
    const auto seen = smeared(gray, 5, is_upright);
    const auto clear = vision::without_smear(seen, {5, is_upright});
    CHECK(clear.size() == gray.size());
    CHECK(cv::norm(clear, gray, cv::NORM_L1) < 0.6 * cv::norm(seen, gray, cv::NORM_L1));
  }
  CHECK(cv::norm(vision::without_smear(gray, {}), gray, cv::NORM_INF) == 0);
}

TEST_CASE("Flat and tiny and empty pictures do not smear") {
  CHECK(vision::smear_of(cv::Mat()).length == 0);
  CHECK(vision::smear_of(cv::Mat(3, 3, CV_8U, cv::Scalar(7))).length == 0);
  CHECK(vision::smear_of(cv::Mat(200, 200, CV_8U, cv::Scalar(90))).length == 0);
}

}  // namespace loadlight::vision_tests
