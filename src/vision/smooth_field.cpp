#include "vision/smooth_field.h"

#include <algorithm>
#include <cmath>

namespace loadlight::vision {
namespace {

std::array<double, 4> cubic(double t) {
  const double s = 1 - t;
  return {s * s * s / 6, (3 * t * t * t - 6 * t * t + 4) / 6, (3 * s * s * s - 6 * s * s + 4) / 6,
          t * t * t / 6};
}

std::array<double, 4> cubic_slope(double t, double spacing) {
  const double s = 1 - t;
  return {-s * s / 2 / spacing, (3 * t * t - 4 * t) / 2 / spacing, (-3 * s * s + 4 * s) / 2 / spacing,
          t * t / 2 / spacing};
}

// Four sums at once, none of which waits for another.
double dot(const double* one, const double* other, int count) {
  std::array<double, 4> sums{};
  int i = 0;
  for (; i + 4 <= count; i += 4) {
    for (std::size_t k = 0; k < 4; ++k) sums[k] += one[k] * other[k];
    one += 4;
    other += 4;
  }
  for (; i < count; ++i) sums[0] += *one++ * *other++;
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

}  // namespace

SplineGrid::SplineGrid(double from, double to, double spacing)
    : from_(from),
      to_(to),
      spacing_(spacing),
      columns_(std::max(1, static_cast<int>(std::ceil((to - from) / spacing))) + 3) {}

bool SplineGrid::covers(port::PixelPoint point) const {
  return point.x >= from_ && point.x < to_ && point.y >= from_ && point.y < to_;
}

SplineTaps SplineGrid::taps(port::PixelPoint point) const {
  const double x = (point.x - from_) / spacing_;
  const double y = (point.y - from_) / spacing_;
  const int column = static_cast<int>(x);
  const int row = static_cast<int>(y);
  return {row * columns_ + column, cubic(x - column), cubic(y - row)};
}

SplineTaps SplineGrid::slope_across(port::PixelPoint point) const {
  SplineTaps result = taps(point);
  const double x = (point.x - from_) / spacing_;
  result.across = cubic_slope(x - std::floor(x), spacing_);
  return result;
}

SplineTaps SplineGrid::slope_along(port::PixelPoint point) const {
  SplineTaps result = taps(point);
  const double y = (point.y - from_) / spacing_;
  result.along = cubic_slope(y - std::floor(y), spacing_);
  return result;
}

double value_of(const SplineTaps& taps, const std::vector<double>& controls, int columns) {
  double sum = 0;
  for (std::size_t j = 0; j < 4; ++j) {
    const double* row = controls.data() + taps.first + static_cast<std::ptrdiff_t>(j) * columns;
    sum += taps.along[j] * (taps.across[0] * row[0] + taps.across[1] * row[1] + taps.across[2] * row[2] +
                            taps.across[3] * row[3]);
  }
  return sum;
}

FieldFit::FieldFit(const SplineGrid& grid, double bend)
    : columns_(grid.columns()),
      count_(grid.controls()),
      band_(3 * grid.columns() + 3),
      matrix_(static_cast<std::size_t>(count_ * (band_ + 1))),
      right_(static_cast<std::size_t>(count_)) {
  const double deviation = bend * grid.spacing() * grid.spacing();
  expect_little_bending(1 / (deviation * deviation));
}

double& FieldFit::entry(int row, int column) {
  return matrix_[static_cast<std::size_t>(row * (band_ + 1) + band_ + column - row)];
}

void FieldFit::expect_straight(std::array<int, 4> where, std::array<double, 4> factors, double weight) {
  for (std::size_t a = 0; a < 4; ++a) {
    for (std::size_t b = 0; b < 4; ++b) {
      if (where[b] <= where[a]) entry(where[a], where[b]) += weight * factors[a] * factors[b];
    }
  }
}

void FieldFit::expect_little_bending(double weight) {
  constexpr double kLeast = 1e-5;  // holds still what nothing else holds
  for (int i = 0; i < count_; ++i) {
    const int column = i % columns_;
    const int row = i / columns_;
    entry(i, i) += kLeast;
    const bool inner_column = column > 0 && column + 1 < columns_;
    const bool inner_row = row > 0 && row + 1 < columns_;
    if (inner_column) expect_straight({i - 1, i, i + 1, i}, {1, -2, 1, 0}, weight);
    if (inner_row) expect_straight({i - columns_, i, i + columns_, i}, {1, -2, 1, 0}, weight);
    if (column + 1 < columns_ && row + 1 < columns_) {
      expect_straight({i, i + 1, i + columns_, i + columns_ + 1}, {1, -1, -1, 1}, 2 * weight);
    }
  }
}

void FieldFit::add(const SplineTaps& taps, double value, double weight) {
  std::array<double, 16> factor{};
  for (std::size_t i = 0; i < 16; ++i) factor[i] = taps.along[i / 4] * taps.across[i % 4];
  for (int a = 0; a < 16; ++a) {
    const double scaled = weight * factor[static_cast<std::size_t>(a)];
    const int row = taps.first + a / 4 * columns_ + a % 4;
    right_[static_cast<std::size_t>(row)] += scaled * value;
    double* entries = &entry(row, taps.first);
    const double* other = factor.data();
    for (int above = 0; above < a / 4; ++above, entries += columns_, other += 4) {
      for (int b = 0; b < 4; ++b) entries[b] += scaled * other[b];
    }
    for (int b = 0; b <= a % 4; ++b) entries[b] += scaled * other[b];
  }
}

// Entry (row, k) is the k-th from here, for every k within the band.
double* FieldFit::row_of(int row) {
  return matrix_.data() + static_cast<std::ptrdiff_t>(row) * (band_ + 1) + band_ - row;
}

// Cholesky within the band.
void FieldFit::factorise() {
  for (int i = 0; i < count_; ++i) {
    double* row = row_of(i);
    const int first = std::max(0, i - band_);
    for (int j = first; j < i; ++j) {
      const double* other = row_of(j);
      const int from = std::max(first, j - band_);
      row[j] = (row[j] - dot(row + from, other + from, j - from)) / other[j];
    }
    row[i] = std::sqrt(std::max(row[i] - dot(row + first, row + first, i - first), 1e-12));
  }
}

void FieldFit::solve() {
  factorise();
  controls_ = right_;
  double* controls = controls_.data();
  for (int i = 0; i < count_; ++i) {
    const double* row = row_of(i);
    const int first = std::max(0, i - band_);
    controls[i] = (controls[i] - dot(row + first, controls + first, i - first)) / row[i];
  }
  for (int i = count_ - 1; i >= 0; --i) {
    const double* row = row_of(i);
    controls[i] /= row[i];
    for (int k = std::max(0, i - band_); k < i; ++k) controls[k] -= row[k] * controls[i];
  }
}

double FieldFit::uncertainty(const SplineTaps& taps) const {
  const int width = band_ + 1;
  std::vector<double> z(static_cast<std::size_t>(count_ - taps.first));
  double sum = 0;
  for (int i = taps.first; i < count_; ++i) {
    const int step = i - taps.first;
    const int down = step / columns_;
    const int right = step % columns_;
    double value = down < 4 && right < 4 ? taps.along[static_cast<std::size_t>(down)] *
                                               taps.across[static_cast<std::size_t>(right)]
                                         : 0;
    const double* row = matrix_.data() + static_cast<std::ptrdiff_t>(i) * width + band_ - i;
    const int first = std::max(taps.first, i - band_);
    value -= dot(row + first, z.data() + (first - taps.first), i - first);
    value /= row[i];
    z[static_cast<std::size_t>(step)] = value;
    sum += value * value;
  }
  return std::sqrt(sum);
}

}  // namespace loadlight::vision
