#include "vision/finder_spots.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <opencv2/imgproc.hpp>
#include <optional>

#include "vision/gray_mat.h"

namespace loadlight::vision {
namespace {

constexpr std::size_t kMostSpots = 600;
constexpr int kBlock = 4;             // pixels a side of what surroundings are measured in, and of the next
                                      // size of the picture
constexpr int kSurroundings = 15;     // blocks a side of what a pixel is compared with
constexpr int kRowStep = 2;           // a core of 3 modules of 2 pixels is crossed at least twice
constexpr double kLeastModule = 1.3;  // pixels
constexpr int kLeastSide = 61;        // pixels, of a picture that is looked at

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

// Which pixels are darker than their surroundings: told where it is asked, since most are never looked at.
class DarkPixels final {
 public:
  // `blocks` are the means of kBlock x kBlock pixels; what is left over at the edges counts to the last.
  DarkPixels(const cv::Mat& gray, const cv::Mat& blocks, int darker) : gray_(gray) {
    cv::boxFilter(blocks, bounds_, -1, {kSurroundings, kSurroundings});
    bounds_ -= darker;
  }

  int width() const { return gray_.cols; }
  int height() const { return gray_.rows; }
  bool contain(int x, int y) const { return x >= 0 && y >= 0 && x < gray_.cols && y < gray_.rows; }
  bool at(int x, int y) const {
    return gray_.ptr<std::uint8_t>(y)[x] < bounds_of(y)[std::min(x / kBlock, bounds_.cols - 1)];
  }

  // The row as bytes, 1 is dark.
  void take_row(int y, std::vector<std::uint8_t>& row) const {
    const auto* gray = gray_.ptr<std::uint8_t>(y);
    const auto* bounds = bounds_of(y);
    const int whole = bounds_.cols;
    std::uint8_t* dark = row.data();
    for (int block = 0; block < whole; ++block) {
      for (int i = 0; i < kBlock; ++i) dark[block * kBlock + i] = gray[block * kBlock + i] < bounds[block];
    }
    for (int x = whole * kBlock; x < gray_.cols; ++x) dark[x] = gray[x] < bounds[whole - 1];
  }

 private:
  const std::uint8_t* bounds_of(int y) const {
    return bounds_.ptr<std::uint8_t>(std::min(y / kBlock, bounds_.rows - 1));
  }

  cv::Mat gray_;
  cv::Mat bounds_;  // a pixel under this is dark, block by block
};

struct Step final {
  int x;
  int y;
};

// One straight walk from a pixel of the core outwards: how much of core, light ring and dark ring it meets.
std::array<int, 3> walk(const DarkPixels& dark, int x, int y, Step step, int most) {
  std::array<int, 3> met{};
  for (std::size_t part = 0; part < 3; ++part) {
    const bool wants_dark = part != 1;
    for (; dark.contain(x, y) && dark.at(x, y) == wants_dark;
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

std::optional<Line> line_through(const DarkPixels& dark, int x, int y, Step step, double module) {
  const int most = static_cast<int>(module * 5) + 2;
  if (!dark.contain(x, y) || !dark.at(x, y)) return std::nullopt;
  const auto back = walk(dark, x, y, {-step.x, -step.y}, most);
  const auto on = walk(dark, x + step.x, y + step.y, step, most);
  const Runs runs{back[2], back[1], back[0] + on[0], on[1], on[2]};
  const auto found = module_of(runs);
  if (!found || *found > module * 1.7 || *found < module / 1.7) return std::nullopt;
  return Line{*found, 0.5 + on[0] + on[1] + on[2] - back_to_middle(runs)};
}

// The pattern whose core a row crossed with its middle at (x, y), if column and both diagonals cross it too.
std::optional<FinderSpot> pattern_at(const DarkPixels& dark, double x, int y, double module) {
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
void examine(const DarkPixels& dark, int y, int end, const Runs& runs, std::vector<FinderSpot>& spots) {
  if (runs[2] <= std::max({runs[0], runs[1], runs[3], runs[4]})) return;  // most runs, cheaply
  const auto module = module_of(runs);
  if (!module) return;
  if (const auto spot = pattern_at(dark, end - back_to_middle(runs), y, *module)) keep(spots, *spot);
}

// The end of the run that begins at `x`; eight pixels at a step where they are all alike.
int run_end(const std::vector<std::uint8_t>& row, int x, int width) {
  const std::uint8_t colour = row[static_cast<std::size_t>(x)];
  const std::uint64_t alike = colour ? 0x0101010101010101u : 0;
  for (; x + 8 <= width; x += 8) {
    std::uint64_t eight = 0;
    std::memcpy(&eight, row.data() + x, 8);
    if (eight != alike) break;
  }
  while (x < width && row[static_cast<std::size_t>(x)] == colour) ++x;
  return x;
}

void scan_row(const DarkPixels& dark, int y, std::vector<std::uint8_t>& row, std::vector<FinderSpot>& spots) {
  dark.take_row(y, row);
  Runs runs{};
  for (int x = 0; x < dark.width();) {
    const int end = run_end(row, x, dark.width());
    runs = {runs[1], runs[2], runs[3], runs[4], end - x};
    if (row[static_cast<std::size_t>(x)] != 0 && runs[0] > 0) examine(dark, y, end, runs, spots);
    x = end;
  }
}

// Adds what one size of the picture shows, in pixels of the whole.
void scan(const DarkPixels& dark, double scale, std::vector<FinderSpot>& spots) {
  std::vector<std::uint8_t> row(static_cast<std::size_t>(dark.width()));
  std::vector<FinderSpot> seen;
  for (int y = 0; y < dark.height(); y += kRowStep) scan_row(dark, y, row, seen);
  for (const auto& spot : seen) {
    keep(spots, {{spot.centre.x * scale, spot.centre.y * scale}, spot.module * scale});
  }
}

// The means of 2 x 2 pixels; an odd last row or column is left out.
cv::Mat halved(const cv::Mat& gray) {
  cv::Mat half;
  cv::resize(gray({0, 0, gray.cols / 2 * 2, gray.rows / 2 * 2}), half, {gray.cols / 2, gray.rows / 2}, 0, 0,
             cv::INTER_AREA);
  return half;
}

}  // namespace

std::vector<FinderSpot> find_finder_spots(port::GrayView view, int darker) {
  std::vector<FinderSpot> spots;
  cv::Mat gray = mat_over(view);
  for (double scale = 1; std::min(gray.cols, gray.rows) >= kLeastSide; scale *= kBlock) {
    const cv::Mat blocks = halved(halved(gray));
    scan(DarkPixels(gray, blocks, darker), scale, spots);
    gray = blocks;
  }
  return spots;
}

}  // namespace loadlight::vision
