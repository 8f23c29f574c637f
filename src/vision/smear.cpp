#include "vision/smear.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace loadlight::vision {
namespace {

constexpr int kLongest = 24;       // pixels
constexpr int kLinesBetween = 64;  // lines looked at: about so many, spread evenly
constexpr double kLeastLength = 2.7;
constexpr double kLongerThanAcross = 1.5;  // than the other way, in which modules alone tell
constexpr double kLeastOpposite = -0.1;    // correlation of the steps
// Whatever blurs besides moves the length that is told by so much; measured on modelled labels.
constexpr double kFromOtherBlur = 0.55;  // pixels
constexpr double kNoise = 0.005;         // of the picture's power; more leaves smear, less shows grain
constexpr int kMargin = 24;              // pixels that the filter may reach over the border

// Correlation of the steps along the rows with themselves, so many pixels on.
std::array<double, kLongest + 1> steps_alike(const cv::Mat& gray) {
  std::array<double, kLongest + 1> alike{};
  const int every = std::max(1, gray.rows / kLinesBetween);
  const int last = gray.cols - kLongest - 2;
  std::vector<int> steps(static_cast<std::size_t>(std::max(0, gray.cols - 1)));
  for (int y = every / 2; y < gray.rows; y += every) {
    const auto* row = gray.ptr<std::uint8_t>(y);
    for (std::size_t x = 0; x < steps.size(); ++x) steps[x] = row[x + 1] - row[x];
    for (std::size_t k = 0; k < alike.size(); ++k) {
      int sum = 0;
      for (int x = 0; x < last; ++x)
        sum += steps[static_cast<std::size_t>(x)] * steps[static_cast<std::size_t>(x) + k];
      alike[k] += sum;
    }
  }
  return alike;
}

// Where the steps are likest to their opposite; 0 where they nowhere are.
double length_along_rows(const cv::Mat& gray) {
  if (gray.cols < 2 * kLongest) return 0;
  const auto alike = steps_alike(gray);
  const auto least = std::min_element(alike.begin() + 2, alike.end() - 1);
  if (alike[0] <= 0 || *least > kLeastOpposite * alike[0]) return 0;
  const double bend = least[-1] - 2 * least[0] + least[1];
  const double off = bend > 0 ? std::clamp(0.5 * (least[-1] - least[1]) / bend, -0.5, 0.5) : 0;
  return static_cast<double>(least - alike.begin()) + off - kFromOtherBlur;
}

cv::Mat turned(const cv::Mat& gray) {
  cv::Mat result;
  cv::transpose(gray, result);
  return result;
}

// What each frequency of a row is multiplied by.
std::vector<float> inverse_of(double length, int size) {
  std::vector<float> factors;
  for (int i = 0; i < size; ++i) {
    const double turns = CV_PI * std::min(i, size - i) / size * length;
    const double left = turns < 1e-9 ? 1 : std::sin(turns) / turns;
    factors.push_back(static_cast<float>((1 + kNoise) * left / (left * left + kNoise)));
  }
  return factors;
}

cv::Mat without_smear_along_rows(const cv::Mat& gray, double length) {
  const int size = cv::getOptimalDFTSize(gray.cols + 2 * kMargin);
  cv::Mat wide;
  cv::copyMakeBorder(gray, wide, 0, 0, kMargin, size - gray.cols - kMargin, cv::BORDER_REFLECT);
  wide.convertTo(wide, CV_32F);
  cv::Mat spectra;
  cv::dft(wide, spectra, cv::DFT_ROWS | cv::DFT_COMPLEX_OUTPUT);
  const auto factors = inverse_of(length, size);
  for (int y = 0; y < spectra.rows; ++y) {
    auto* row = spectra.ptr<cv::Vec2f>(y);
    for (int x = 0; x < size; ++x) row[x] *= factors[static_cast<std::size_t>(x)];
  }
  cv::dft(spectra, wide, cv::DFT_ROWS | cv::DFT_INVERSE | cv::DFT_SCALE | cv::DFT_REAL_OUTPUT);
  cv::Mat result;
  wide(cv::Rect(kMargin, 0, gray.cols, gray.rows)).convertTo(result, CV_8U);
  return result;
}

}  // namespace

Smear smear_of(const cv::Mat& gray) {
  const double across = length_along_rows(gray);
  const double down = length_along_rows(turned(gray));
  const bool is_upright = down > across;
  const double length = std::max(across, down);
  const bool is_clear = length >= kLeastLength && length > kLongerThanAcross * std::min(across, down);
  return {is_clear ? length : 0, is_upright};
}

cv::Mat without_smear(const cv::Mat& gray, const Smear& smear) {
  if (smear.length <= 0) return gray;
  if (!smear.is_upright) return without_smear_along_rows(gray, smear.length);
  return turned(without_smear_along_rows(turned(gray), smear.length));
}

}  // namespace loadlight::vision
