#include "vision/finder_spots.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <opencv2/imgproc.hpp>
#include <optional>

#include "vision/gray_mat.h"

namespace loadlight::vision {
namespace {

constexpr std::size_t kMostSpots = 600;
constexpr int kSurroundings = 61;     // pixels a side of what a pixel is compared with
constexpr int kDarker = 6;            // grey levels below its surroundings' mean make a pixel dark
constexpr int kRowStep = 2;           // a core of 3 modules of 2 pixels is crossed at least twice
constexpr double kLeastModule = 1.3;  // pixels
constexpr int kCoarser = 3;           // from one size of the picture to the next

using Runs = std::array<int, 5>;

// Pixels from the pattern's end back to the middle of its core.
double back_to_middle(const Runs& runs) {
  return runs[4] + runs[3] + runs[2] / 2.0;
}

int length_of(const Runs& runs) {
  return runs[0] + runs[1] + runs[2] + runs[3] + runs[4];
}

// The module, in pixels, if the runs are near 1:1:3:1:1.
std::optional<double> module_of(const Runs& runs) {
  const double module = length_of(runs) / 7.0;
  if (module < kLeastModule) return std::nullopt;
  const double slack = module * 0.6 + 0.5;
  for (std::size_t i = 0; i < 5; ++i) {
    const double wanted = i == 2 ? 3 * module : module;
    if (std::abs(runs[i] - wanted) > (i == 2 ? 1.5 * slack : slack)) return std::nullopt;
  }
  return module;
}

struct Step final {
  int x;
  int y;
};

// One straight walk from a pixel of the core outwards: how much of core, light ring and dark ring it meets.
std::array<int, 3> walk(const cv::Mat& dark, int x, int y, Step step, int most) {
  std::array<int, 3> met{};
  const cv::Rect whole({}, dark.size());
  for (std::size_t part = 0; part < 3; ++part) {
    const bool wants_dark = part != 1;
    for (; whole.contains({x, y}) && (dark.at<std::uint8_t>(y, x) != 0) == wants_dark;
         x += step.x, y += step.y) {
      if (++met[part] > most) return {};
    }
  }
  return met;
}

// A straight line both ways through a pixel of the core.
struct Line final {
  double module = 0;
  double to_middle = 0;  // steps from the pixel to the middle of the pattern
};

std::optional<Line> line_through(const cv::Mat& dark, int x, int y, Step step, double module) {
  const int most = static_cast<int>(module * 5) + 2;
  if (!cv::Rect({}, dark.size()).contains({x, y}) || dark.at<std::uint8_t>(y, x) == 0) return std::nullopt;
  const auto back = walk(dark, x, y, {-step.x, -step.y}, most);
  const auto on = walk(dark, x + step.x, y + step.y, step, most);
  const Runs runs{back[2], back[1], back[0] + on[0], on[1], on[2]};
  const auto found = module_of(runs);
  if (!found || *found > module * 1.7 || *found < module / 1.7) return std::nullopt;
  return Line{*found, 0.5 + on[0] + on[1] + on[2] - back_to_middle(runs)};
}

// The pattern whose core a row crossed with its middle at (x, y), if column and both diagonals cross it too.
std::optional<FinderSpot> pattern_at(const cv::Mat& dark, double x, int y, double module) {
  const auto column = line_through(dark, static_cast<int>(x), y, {0, 1}, module);
  if (!column) return std::nullopt;
  const double middle = y + 0.5 + column->to_middle;
  const auto around = [&](Step step) {
    return line_through(dark, static_cast<int>(x), static_cast<int>(middle), step, module).has_value();
  };
  if (!around({1, 1}) || !around({1, -1})) return std::nullopt;
  return FinderSpot{{x, middle}, (module + column->module) / 2};
}

void keep(std::vector<FinderSpot>& spots, const FinderSpot& spot) {
  const auto known = std::any_of(spots.begin(), spots.end(), [&](const FinderSpot& other) {
    return std::hypot(other.centre.x - spot.centre.x, other.centre.y - spot.centre.y) < 2.5 * other.module;
  });
  if (!known && spots.size() < kMostSpots) spots.push_back(spot);
}

// `end` is the first pixel after the pattern's last run.
void examine(const cv::Mat& dark, int y, int end, const Runs& runs, std::vector<FinderSpot>& spots) {
  if (runs[2] <= std::max({runs[0], runs[1], runs[3], runs[4]})) return;  // most runs, cheaply
  const auto module = module_of(runs);
  if (!module) return;
  if (const auto spot = pattern_at(dark, end - back_to_middle(runs), y, *module)) keep(spots, *spot);
}

void scan_row(const cv::Mat& dark, int y, std::vector<FinderSpot>& spots) {
  const auto* row = dark.ptr<std::uint8_t>(y);
  Runs runs{};
  int start = 0;
  for (int x = 1; x <= dark.cols; ++x) {
    if (x < dark.cols && row[x] == row[x - 1]) continue;
    std::rotate(runs.begin(), runs.begin() + 1, runs.end());
    runs[4] = x - start;
    start = x;
    if (row[x - 1] != 0 && runs[0] > 0) examine(dark, y, x, runs, spots);
  }
}

cv::Mat dark_pixels(const cv::Mat& gray) {
  cv::Mat dark;
  cv::adaptiveThreshold(gray, dark, 255, cv::ADAPTIVE_THRESH_MEAN_C, cv::THRESH_BINARY_INV, kSurroundings,
                        kDarker);
  return dark;
}

// Adds what one size of the picture shows, in pixels of the whole.
void scan(const cv::Mat& gray, double scale, std::vector<FinderSpot>& spots) {
  const cv::Mat dark = dark_pixels(gray);
  std::vector<FinderSpot> seen;
  for (int y = 0; y < dark.rows; y += kRowStep) scan_row(dark, y, seen);
  for (const auto& spot : seen) {
    keep(spots, {{spot.centre.x * scale, spot.centre.y * scale}, spot.module * scale});
  }
}

}  // namespace

std::vector<FinderSpot> find_finder_spots(port::GrayView view) {
  std::vector<FinderSpot> spots;
  cv::Mat gray = mat_over(view);
  double scale = 1;
  while (std::min(gray.cols, gray.rows) >= kSurroundings) {
    scan(gray, scale, spots);
    cv::Mat coarser;
    cv::resize(gray, coarser, {gray.cols / kCoarser, gray.rows / kCoarser}, 0, 0, cv::INTER_AREA);
    gray = coarser;
    scale *= kCoarser;
  }
  return spots;
}

}  // namespace loadlight::vision
