#include "vision/texture_places.h"

#include <algorithm>
#include <cmath>
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

cv::Mat block_means(const cv::Mat& values, int block) {
  cv::Mat means;
  const cv::Size blocks{values.cols / block, values.rows / block};
  cv::resize(values({0, 0, blocks.width * block, blocks.height * block}), means, blocks, 0, 0, cv::INTER_AREA);
  return means;
}

cv::Mat smoothed(const cv::Mat& blocks) {
  cv::Mat result;
  cv::boxFilter(blocks, result, -1, {kWindow, kWindow});
  return result;
}

// Changes from pixel to pixel that are noise: what a quarter of the blocks stay under.
double noise_of(const cv::Mat& changes) {
  std::vector<float> sorted(changes.begin<float>(), changes.end<float>());
  const auto quarter = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 4);
  std::nth_element(sorted.begin(), quarter, sorted.end());
  return *quarter;
}

// Change a pixel, along or across, whichever is less, against the spread of grey levels there.
cv::Mat texture(const cv::Mat& gray, int block) {
  cv::Mat levels;
  gray.convertTo(levels, CV_32F);
  const cv::Rect first(0, 0, gray.cols - 1, gray.rows - 1);
  const cv::Mat along = block_means(cv::abs(levels(first + cv::Point(1, 0)) - levels(first)), block);
  const cv::Mat across = block_means(cv::abs(levels(first + cv::Point(0, 1)) - levels(first)), block);
  const cv::Mat mean = smoothed(block_means(levels(first), block));
  const cv::Mat squares = smoothed(block_means(levels(first).mul(levels(first)), block));
  cv::Mat spread = cv::max(squares - mean.mul(mean), 0.0);
  cv::sqrt(spread, spread);
  cv::Mat changes = cv::min(smoothed(along), smoothed(across));
  return (changes - noise_of(along)) / (spread + kFlat);
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

std::vector<Quadrilateral> texture_places(const cv::Mat& gray, std::size_t most) {
  std::vector<Candidate> candidates;
  add_candidates(gray, kCoarse, candidates);
  add_candidates(gray, kFine, candidates);
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
