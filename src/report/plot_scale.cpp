#include "report/plot_scale.h"

#include <charconv>
#include <cmath>

namespace loadlight::report {

PlotScale::PlotScale(double low, double high, double from, double to)
    : low_(low), high_(high > low ? high : low + 1), from_(from), to_(to) {}

double PlotScale::at(double value) const {
  return from_ + (to_ - from_) * (value - low_) / (high_ - low_);
}

std::vector<PlotTick> PlotScale::ticks(std::span<const double> steps, std::size_t most) const {
  double step = steps.back();
  for (double wider : steps) {
    if ((high_ - low_) / wider <= static_cast<double>(most)) {
      step = wider;
      break;
    }
  }
  while ((high_ - low_) / step > static_cast<double>(most)) step *= 2;
  std::vector<PlotTick> ticks;
  const double first = std::ceil(low_ / step - 1e-9);
  for (double i = first; i * step <= high_ * (1 + 1e-9) + 1e-9; ++i) {
    ticks.push_back({at(i * step), fixed(i * step, 0)});
  }
  return ticks;
}

std::string fixed(double value, int decimals) {
  char text[64];
  if (std::fabs(value) < 0.5 * std::pow(10, -decimals)) value = 0;  // no "-0"
  const auto end = std::to_chars(text, text + sizeof text, value, std::chars_format::fixed, decimals);
  return end.ec == std::errc{} ? std::string(text, end.ptr) : std::string{"?"};
}

}  // namespace loadlight::report
