#include "vision/print_measures.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "vision/qr_blocks.h"
#include "vision/qr_structure.h"

namespace loadlight::vision {
namespace {

using port::PixelPoint;

double distance(PixelPoint a, PixelPoint b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

bool shows(port::GrayView picture, const port::Corners& corners) {
  return picture.width > 1 && picture.height > 1 &&
         std::all_of(corners.begin(), corners.end(), [&](PixelPoint p) {
           return p.x >= 0 && p.y >= 0 && p.x <= picture.width && p.y <= picture.height;
         });
}

// The grey level at a point, between the middles of pixels, 0 to 1.
double reflectance_at(port::GrayView picture, PixelPoint point) {
  const double x = std::clamp(point.x - 0.5, 0.0, picture.width - 1.001);
  const double y = std::clamp(point.y - 0.5, 0.0, picture.height - 1.001);
  const auto left = static_cast<std::ptrdiff_t>(x);
  const auto top = static_cast<std::ptrdiff_t>(y);
  const std::uint8_t* upper = picture.pixels + top * picture.stride + left;
  const std::uint8_t* lower = upper + picture.stride;
  const double right = x - static_cast<double>(left);
  const double below = y - static_cast<double>(top);
  return ((upper[0] * (1 - right) + upper[1] * right) * (1 - below) +
          (lower[0] * (1 - right) + lower[1] * right) * below) /
         255;
}

// What an aperture of about 0.8 of a module sees in each, row by row.
std::vector<double> reflectances(port::GrayView picture, const GridMap& map) {
  constexpr std::array<double, 3> kSteps{-0.25, 0, 0.25};
  std::vector<double> levels;
  for (int y = 0; y < map.side(); ++y) {
    for (int x = 0; x < map.side(); ++x) {
      double sum = 0;
      for (double dy : kSteps) {
        for (double dx : kSteps) sum += reflectance_at(picture, map.at(x + 0.5 + dx, y + 0.5 + dy));
      }
      levels.push_back(sum / (kSteps.size() * kSteps.size()));
    }
  }
  return levels;
}

// A part of the fixed patterns: columns and rows from `left` and `top`.
struct Part final {
  int left = 0;
  int top = 0;
  int width = 0;
  int height = 0;
};

// Finder patterns with their separators, the timing patterns between them, alignment patterns.
std::vector<Part> fixed_parts(int version) {
  const int side = side_of(version);
  std::vector<Part> parts{
      {0, 0, 8, 8}, {side - 8, 0, 8, 8}, {0, side - 8, 8, 8}, {8, 6, side - 16, 1}, {6, 8, 1, side - 16}};
  for (const auto& middle : alignment_middles(version)) parts.push_back({middle.x - 2, middle.y - 2, 5, 5});
  return parts;
}

// What is seen of one symbol, its modules parted at the middle between the lightest and the darkest.
class SeenPrint final {
 public:
  SeenPrint(std::vector<double> levels, const DecodedGrid& decoded)
      : levels_(std::move(levels)), decoded_(decoded) {
    const auto [darkest, lightest] = std::minmax_element(levels_.begin(), levels_.end());
    contrast_ = *lightest - *darkest;
    threshold_ = (*lightest + *darkest) / 2;
  }

  double contrast() const { return contrast_; }

  int damaged_modules() const {
    int most = 0;
    for (const auto& part : fixed_parts(decoded_.grid.form.version)) most = std::max(most, damaged_in(part));
    return most;
  }

  std::vector<core::CodewordModulation> codewords(const std::vector<Block>& blocks) const {
    std::vector<core::CodewordModulation> all;
    for (std::size_t b = 0; b < blocks.size(); ++b) {
      for (int place : blocks[b].places) {
        all.push_back({static_cast<int>(b), modulation_of(place), is_wrong(place)});
      }
    }
    return all;
  }

 private:
  int damaged_in(const Part& part) const {
    const auto& symbol = decoded_.grid;
    int damaged = 0;
    for (int y = part.top; y < part.top + part.height; ++y) {
      for (int x = part.left; x < part.left + part.width; ++x) {
        const auto module = static_cast<std::size_t>(y * symbol.form.side() + x);
        damaged += (levels_[module] < threshold_) != symbol.dark(x, y) ? 1 : 0;
      }
    }
    return damaged;
  }

  // By what is seen of its modules, not by what the decoder took on trust.
  bool is_wrong(int codeword) const {
    const auto& order = data_order(decoded_.grid.form.version);
    for (std::size_t i = 0; i < 8; ++i) {
      const auto module = static_cast<std::size_t>(order[static_cast<std::size_t>(codeword) * 8 + i]);
      if ((levels_[module] < threshold_) != (decoded_.grid.modules[module] != 0)) return true;
    }
    return false;
  }

  double modulation_of(int codeword) const {
    const auto& order = data_order(decoded_.grid.form.version);
    double least = 1;
    for (std::size_t i = 0; i < 8; ++i) {
      const auto module = static_cast<std::size_t>(order[static_cast<std::size_t>(codeword) * 8 + i]);
      least = std::min(least, 2 * std::abs(levels_[module] - threshold_) / contrast_);
    }
    return least;
  }

  std::vector<double> levels_;
  const DecodedGrid& decoded_;
  double contrast_ = 0;
  double threshold_ = 0;
};

// The projective map from the unit square to four corners.
class Perspective final {
 public:
  explicit Perspective(const port::Corners& c) : origin_(c[0]) {
    const PixelPoint right{c[1].x - c[2].x, c[1].y - c[2].y};
    const PixelPoint down{c[3].x - c[2].x, c[3].y - c[2].y};
    const PixelPoint lean{c[0].x - c[1].x + c[2].x - c[3].x, c[0].y - c[1].y + c[2].y - c[3].y};
    const double area = right.x * down.y - right.y * down.x;
    g_ = (lean.x * down.y - lean.y * down.x) / area;
    h_ = (right.x * lean.y - right.y * lean.x) / area;
    along_u_ = {c[1].x - c[0].x + g_ * c[1].x, c[1].y - c[0].y + g_ * c[1].y};
    along_v_ = {c[3].x - c[0].x + h_ * c[3].x, c[3].y - c[0].y + h_ * c[3].y};
  }

  PixelPoint at(double u, double v) const {
    const double w = g_ * u + h_ * v + 1;
    return {(along_u_.x * u + along_v_.x * v + origin_.x) / w,
            (along_u_.y * u + along_v_.y * v + origin_.y) / w};
  }

 private:
  PixelPoint origin_;
  PixelPoint along_u_;
  PixelPoint along_v_;
  double g_ = 0;
  double h_ = 0;
};

double axial_non_uniformity(const port::Corners& c) {
  const double across = distance(c[0], c[1]) + distance(c[3], c[2]);
  const double down = distance(c[0], c[3]) + distance(c[1], c[2]);
  return std::abs(across - down) / ((across + down) / 2);
}

// The largest distance of a module's corner from its place between the symbol's corners, in modules.
double grid_non_uniformity(const GridMap& map) {
  const Perspective ideal(map.corners());
  const double side = map.side();
  double most = 0;
  for (int v = 0; v <= map.side(); ++v) {
    for (int u = 0; u <= map.side(); ++u) {
      most = std::max(most, distance(map.at(u, v), ideal.at(u / side, v / side)));
    }
  }
  return most / map.module();
}

// Of the worst block: 1 - 2 t / d with t wrong codewords of d check codewords (ISO/IEC 15415; from memory).
double unused_error_correction(const core::PrintMeasures& measures) {
  double least = 1;
  for (std::size_t b = 0; b < measures.check_codewords.size(); ++b) {
    const auto wrong = std::count_if(measures.codewords.begin(), measures.codewords.end(), [&](const auto& one) {
      return one.wrong && one.block == static_cast<int>(b);
    });
    least = std::min(least, 1 - 2.0 * static_cast<double>(wrong) / measures.check_codewords[b]);
  }
  return std::max(least, 0.0);
}

}  // namespace

std::optional<core::PrintMeasures> measure_print(port::GrayView picture, const GridMap& map,
                                                 const DecodedGrid& decoded) {
  const auto& form = decoded.grid.form;
  if (map.side() != form.side() || !shows(picture, map.corners())) return std::nullopt;
  const SeenPrint seen(reflectances(picture, map), decoded);
  if (seen.contrast() <= 0) return std::nullopt;
  const auto blocks = blocks_of(form.version, form.level);
  core::PrintMeasures measures;
  measures.decoded = true;
  measures.contrast = seen.contrast();
  measures.damaged_modules = seen.damaged_modules();
  measures.axial_non_uniformity = axial_non_uniformity(map.corners());
  measures.grid_non_uniformity = grid_non_uniformity(map);
  measures.codewords = seen.codewords(blocks);
  for (const auto& block : blocks) measures.check_codewords.push_back(block.checks);
  measures.unused_error_correction = unused_error_correction(measures);
  measures.module_pixels = map.module();
  return measures;
}

}  // namespace loadlight::vision
