// An axis: which values it shows, where they lie, and round values to mark.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "loadlight/report/cycle_plot.h"

namespace loadlight::report {

class PlotScale final {
 public:
  // `low` lies at `from` and `high` at `to`, which may be less than `from` (upwards). A span of nothing is
  // widened to 1.
  PlotScale(double low, double high, double from, double to);

  double at(double value) const;
  double low() const { return low_; }
  double high() const { return high_; }
  // Marks at multiples of the smallest of `steps` that needs no more than `most` of them.
  std::vector<PlotTick> ticks(std::span<const double> steps, std::size_t most) const;

 private:
  double low_, high_, from_, to_;
};

// Without a locale: "12.50" with 2 decimals.
std::string fixed(double value, int decimals);

}  // namespace loadlight::report
