// A smooth field of numbers over a square, fitted to evidence at scattered points: uniform cubic B-splines
// under a prior on their bending. (P-splines: Eilers and Marx, "Flexible smoothing with B-splines and
// penalties", Statistical Science 11, 1996.)
#pragma once

#include <array>
#include <vector>

#include "loadlight/port/picture.h"

namespace loadlight::vision {

// What the four by four splines over one point weigh there.
struct SplineTaps final {
  int first = 0;  // index of the first control
  std::array<double, 4> across{};
  std::array<double, 4> along{};
};

// Which controls a square from `from` to `to` needs in both directions, `spacing` apart.
class SplineGrid final {
 public:
  SplineGrid(double from, double to, double spacing);

  int columns() const { return columns_; }
  int controls() const { return columns_ * columns_; }
  double spacing() const { return spacing_; }
  bool covers(port::PixelPoint point) const;
  SplineTaps taps(port::PixelPoint point) const;          // of a covered point
  SplineTaps slope_across(port::PixelPoint point) const;  // taps of the derivative by x
  SplineTaps slope_along(port::PixelPoint point) const;   // and by y

 private:
  double from_;
  double to_;
  double spacing_;
  int columns_;
};

double value_of(const SplineTaps& taps, const std::vector<double>& controls, int columns);

// Gathers evidence and finds the likeliest field.
class FieldFit final {
 public:
  // `bend` is the standard deviation of the second derivative that is expected before any evidence.
  FieldFit(const SplineGrid& grid, double bend);

  // The field is `value` at the point of the taps, of `weight` 1 / variance.
  void add(const SplineTaps& taps, double value, double weight);

  // Call once, after all evidence.
  void solve();

  const std::vector<double>& controls() const { return controls_; }

  // The standard deviation of the field at a point, given the evidence; after `solve`.
  double uncertainty(const SplineTaps& taps) const;

 private:
  double& entry(int row, int column);
  double* row_of(int row);
  void expect_straight(std::array<int, 4> where, std::array<double, 4> factors, double weight);
  void expect_little_bending(double weight);
  void factorise();

  int columns_;
  int count_;
  int band_;                    // entries left of the diagonal
  std::vector<double> matrix_;  // lower triangle row by row, `band_` + 1 each, the diagonal last
  std::vector<double> right_;
  std::vector<double> controls_;
};

}  // namespace loadlight::vision
