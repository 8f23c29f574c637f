#include "vision/texture_places.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <opencv2/imgproc.hpp>
#include <optional>

namespace loadlight::vision {
namespace {

constexpr int kWindow = 3;            // blocks a side over which edges are counted
constexpr double kLeastSide = 24;     // pixels of a place
constexpr double kMostOblong = 1.7;   // long side to short side
constexpr double kFlat = 4;           // grey levels that the spread of a window is raised by

// Blocks of this many pixels a side, and how much texture an area must show all over: for each threshold the
// areas are other ones, since text and print close by join on at the lower.
struct Grain final {
  int block;
  std::vector<double> thresholds;
};

const Grain kCoarse{4, {0.16, 0.20, 0.25, 0.30, 0.40}};
const Grain kFine{2, {0.30, 0.40, 0.50, 0.60}};

// Means over blocks, CV_32F.
struct BlockMeans final {
  cv::Mat along;    // change to the next pixel of the row
  cv::Mat across;   // and of the column
  cv::Mat levels;
  cv::Mat squares;
};

// Sums a column of one block high, then gathered by blocks.
struct ColumnSums final {
  std::vector<std::uint32_t> along, across, levels, squares;

  void clear(std::size_t columns) {
    for (auto* sums : {&along, &across, &levels, &squares}) sums->assign(columns, 0);
  }

  void add(const std::uint8_t* row, const std::uint8_t* below) {
    // One kind at a time, through plain pointers: the compiler takes many columns at once.
    const std::size_t columns = along.size();
    auto* sums = along.data();
    for (std::size_t x = 0; x < columns; ++x) sums[x] += static_cast<std::uint32_t>(std::abs(row[x + 1] - row[x]));
    sums = across.data();
    for (std::size_t x = 0; x < columns; ++x) sums[x] += static_cast<std::uint32_t>(std::abs(below[x] - row[x]));
    sums = levels.data();
    for (std::size_t x = 0; x < columns; ++x) sums[x] += row[x];
    sums = squares.data();
    for (std::size_t x = 0; x < columns; ++x) sums[x] += static_cast<std::uint32_t>(row[x] * row[x]);
  }
};

void gather(const std::vector<std::uint32_t>& sums, int block, float* means, int blocks) {
  const float share = 1.0f / static_cast<float>(block * block);
  for (int i = 0; i < blocks; ++i) {
    std::uint32_t sum = 0;
    for (int k = 0; k < block; ++k) sum += sums[static_cast<std::size_t>(i * block + k)];
    means[i] = static_cast<float>(sum) * share;
  }
}

BlockMeans block_means(const cv::Mat& gray, int block) {
  const cv::Size blocks{(gray.cols - 1) / block, (gray.rows - 1) / block};
  BlockMeans means{cv::Mat(blocks, CV_32F), cv::Mat(blocks, CV_32F), cv::Mat(blocks, CV_32F),
                   cv::Mat(blocks, CV_32F)};
  ColumnSums sums;
  for (int y = 0; y < blocks.height; ++y) {
    sums.clear(static_cast<std::size_t>(blocks.width * block));
    for (int k = 0; k < block; ++k) {
      sums.add(gray.ptr<std::uint8_t>(y * block + k), gray.ptr<std::uint8_t>(y * block + k + 1));
    }
    gather(sums.along, block, means.along.ptr<float>(y), blocks.width);
    gather(sums.across, block, means.across.ptr<float>(y), blocks.width);
    gather(sums.levels, block, means.levels.ptr<float>(y), blocks.width);
    gather(sums.squares, block, means.squares.ptr<float>(y), blocks.width);
  }
  return means;
}

cv::Mat smoothed(const cv::Mat& blocks) {
  cv::Mat result;
  cv::boxFilter(blocks, result, -1, {kWindow, kWindow});
  return result;
}

// Changes from pixel to pixel that are noise: what a quarter of the blocks stay under.
double noise_of(const cv::Mat& changes) {
  constexpr std::size_t kEnough = 20000;
  const std::size_t step = std::max<std::size_t>(1, changes.total() / kEnough);
  std::vector<float> sorted;
  for (std::size_t i = 0; i < changes.total(); i += step) sorted.push_back(changes.ptr<float>()[i]);
  const auto quarter = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 4);
  std::nth_element(sorted.begin(), quarter, sorted.end());
  return *quarter;
}

// Change a pixel, along or across, whichever is less, against the spread of grey levels there.
cv::Mat texture(const cv::Mat& gray, int block) {
  const auto means = block_means(gray, block);
  const cv::Mat mean = smoothed(means.levels);
  const cv::Mat squares = smoothed(means.squares);
  cv::Mat spread = cv::max(squares - mean.mul(mean), 0.0);
  cv::sqrt(spread, spread);
  cv::Mat changes = cv::min(smoothed(means.along), smoothed(means.across));
  return (changes - noise_of(means.along)) / (spread + kFlat);
}

struct Candidate final {
  Quadrilateral place;
  double score = 0;  // texture times side
};

std::optional<Candidate> candidate_of(const std::vector<cv::Point>& contour, int block, double threshold) {
  const cv::RotatedRect box = cv::minAreaRect(contour);
  const double width = (static_cast<double>(box.size.width) + 1) * block;
  const double height = (static_cast<double>(box.size.height) + 1) * block;
  const double longer = std::max(width, height);
  const double shorter = std::min(width, height);
  if (shorter < kLeastSide || longer > kMostOblong * shorter) return std::nullopt;
  std::array<cv::Point2f, 4> corners;
  box.points(corners.data());
  Quadrilateral place;
  for (std::size_t i = 0; i < 4; ++i) place[i] = {(corners[i].x + 0.5) * block, (corners[i].y + 0.5) * block};
  return Candidate{clockwise(place), threshold * std::sqrt(width * height)};
}

void add_candidates(const cv::Mat& gray, const Grain& grain, std::vector<Candidate>& candidates) {
  if (std::min(gray.cols, gray.rows) < 2 * kLeastSide) return;
  const cv::Mat map = texture(gray, grain.block);
  const cv::Mat square = cv::getStructuringElement(cv::MORPH_RECT, {2, 2});
  for (const double threshold : grain.thresholds) {
    cv::Mat mask = map > threshold;
    cv::morphologyEx(mask, mask, cv::MORPH_OPEN, square);
    std::vector<std::vector<cv::Point>> contours;
    cv::findContours(mask, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_SIMPLE);
    for (const auto& contour : contours) {
      if (const auto candidate = candidate_of(contour, grain.block, threshold)) candidates.push_back(*candidate);
    }
  }
}

bool much_the_same(const Quadrilateral& one, const Quadrilateral& other) {
  const auto a = centre_of(one);
  const auto b = centre_of(other);
  const double side = mean_side(one);
  const double ratio = mean_side(other) / side;
  return std::hypot(a.x - b.x, a.y - b.y) < 0.15 * side && ratio > 0.8 && ratio < 1.25;
}

}  // namespace

std::vector<Quadrilateral> texture_places(const cv::Mat& gray, std::size_t most, Grains grains) {
  std::vector<Candidate> candidates;
  if (grains != Grains::Fine) add_candidates(gray, kCoarse, candidates);
  if (grains != Grains::Coarse) add_candidates(gray, kFine, candidates);
  std::stable_sort(candidates.begin(), candidates.end(),
                   [](const Candidate& a, const Candidate& b) { return a.score > b.score; });
  std::vector<Quadrilateral> places;
  for (const Candidate& candidate : candidates) {
    const auto same = [&](const Quadrilateral& other) { return much_the_same(candidate.place, other); };
    if (places.size() < most && std::none_of(places.begin(), places.end(), same)) {
      places.push_back(candidate.place);
    }
  }
  return places;
}

}  // namespace loadlight::vision
