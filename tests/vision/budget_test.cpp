// What a read may cost at most, whatever it is shown.
#include <catch2/catch.hpp>
#include <ctime>
#include <iostream>
#include <opencv2/core.hpp>

#include "loadlight/vision/readers.h"
#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"

namespace loadlight::vision_tests {
namespace {

// Time of the processor, on all threads: how many others share the machine does not matter.
double program_seconds() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

// A symbol of the largest version of which every third module is wrong, but for its finders: it shows all that
// a place is looked at for, and is never read.
cv::Mat spoilt_symbol(cv::RNG& rng) {
  cv::Mat modules = drawn_symbol("Every third module of this is wrong", 40, Level::L);
  const auto in_finder = [&](int x, int y) {
    const int last = modules.cols - 8;
    return (x < 8 || x >= last) && (y < 8 || y >= last);
  };
  for (int y = 0; y < modules.rows; ++y) {
    for (int x = 0; x < modules.cols; ++x) {
      auto& module = modules.at<std::uint8_t>(y, x);
      if (!in_finder(x, y) && rng.uniform(0, 3) == 0) module = static_cast<std::uint8_t>(255 - module);
    }
  }
  return modules;
}

// Twelve megapixels of spoilt symbols, each three to five pixels a module, under noise.
cv::Mat hopeless_picture() {
  cv::RNG rng(12);
  cv::Mat picture(3000, 4000, CV_8UC1, cv::Scalar(190));
  for (int i = 0; i < 12; ++i) {
    const cv::Mat symbol = enlarged(spoilt_symbol(rng), 3 + i % 3, 4);
    symbol.copyTo(picture(cv::Rect({20 + i % 4 * 990, 20 + i / 4 * 990}, symbol.size())));
  }
  picture.convertTo(picture, CV_8U, 0.6, 60);
  cv::Mat noise(picture.size(), CV_16S);
  rng.fill(noise, cv::RNG::NORMAL, 0, 12);
  cv::add(picture, noise, picture, {}, CV_8U);
  return picture;
}

double seconds_to_read(const cv::Mat& picture, std::chrono::milliseconds time) {
  const auto reader = vision::make_symbol_reader();
  const double start = program_seconds();
  CHECK(reader->look(view_of(picture), {time, port::Effort::Full, 2}).read.empty());
  return program_seconds() - start;
}

}  // namespace

TEST_CASE("A picture that holds nothing but false hopes is given up soon after its time is spent") {
  constexpr double kMost = 1.5;  // seconds of two threads; without an end it takes three and a half
  const double taken = seconds_to_read(hopeless_picture(), std::chrono::milliseconds(100));
  std::cout << "a hopeless picture, a tenth of a second given: " << taken << " s of the processor\n";
  CHECK(taken < kMost);
}

TEST_CASE("Shots that hold nothing but false hopes are given up soon after their time is spent") {
  const cv::Mat picture = hopeless_picture();
  const std::vector<port::GrayView> shots(4, view_of(picture));
  const auto reader = vision::make_symbol_reader();
  const double start = program_seconds();
  CHECK(reader->look(shots, {std::chrono::milliseconds(100), port::Effort::Full, 2}).read.empty());
  const double taken = program_seconds() - start;
  std::cout << "four hopeless shots, a tenth of a second given: " << taken << " s of the processor\n";
  CHECK(taken < 4);  // seconds of two threads; each shot is searched for finders whatever the time
}

}  // namespace loadlight::vision_tests
