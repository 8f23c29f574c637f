#include "loadlight/report/cycle_plot.h"

#include <algorithm>
#include <cmath>

#include "loadlight/core/steam.h"
#include "report/plot_scale.h"

namespace loadlight::report {
namespace {

using core::CurvePoint;
using core::CycleFindings;
using core::CycleLimits;

// Room around the area, millimetres: title and phases above, axis and legend below, ticks at the sides.
constexpr double kAbove = 13;
constexpr double kBelow = 22;
constexpr double kLeft = 15;
constexpr double kRight = 15;
constexpr double kLetterMm = 0.55 * kPlotFontMm;  // a letter's usual width

constexpr double kMinuteSteps[] = {1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 1440};
constexpr double kCelsiusSteps[] = {5, 10, 20, 50};
constexpr double kKpaSteps[] = {10, 20, 50, 100, 200, 500};

struct Scales final {
  PlotScale minutes, celsius, kpa;
};

double minutes_of(double seconds, const CycleFindings& f) {
  return (seconds - f.start_seconds) / 60;
}
double down_to(double value, double step) {
  return std::floor(value / step) * step;
}
double up_to(double value, double step) {
  return std::ceil(value / step) * step;
}

double highest_kpa(const CycleFindings& f) {
  double kpa = 0;
  for (const CurvePoint& point : f.curve) kpa = std::max(kpa, point.kpa_abs.value_or(0));
  return kpa;
}

Scales scales_of(const CycleFindings& f, const CycleLimits& limits, const PlotBox& area) {
  const double hottest = std::max(f.high_celsius, limits.set_celsius + limits.band_kelvin) + 1;
  const double left = area.x, right = area.x + area.width;
  const double bottom = area.y + area.height;
  return {{0, minutes_of(f.end_seconds, f), left, right},
          {down_to(std::max(f.low_celsius, 0.0), 10), up_to(hottest, 10), bottom, area.y},
          {0, up_to(std::max(highest_kpa(f), 100.0) + 5, 50), bottom, area.y}};
}

std::optional<double> value_of(const CurvePoint& point, PlotCurve curve) {
  switch (curve) {
    case PlotCurve::Temperature:
      return point.celsius;
    case PlotCurve::Saturation:
      return point.kpa_abs ? core::saturation_celsius(*point.kpa_abs) : std::nullopt;
    case PlotCurve::Pressure:
      return point.kpa_abs;
  }
  return std::nullopt;
}

bool is_across_gap(const CycleFindings& f, const CurvePoint& before, const CurvePoint& point) {
  return std::any_of(f.gaps.begin(), f.gaps.end(), [&](const core::Gap& gap) {
    return before.seconds <= gap.start_seconds && point.seconds >= gap.end_seconds;
  });
}

// A curve in pieces, broken where there is no value, where the axis does not reach, and at gaps.
void add_curve(const CycleFindings& f, PlotCurve curve, const Scales& scales, CyclePlot& plot) {
  const PlotScale& scale = curve == PlotCurve::Pressure ? scales.kpa : scales.celsius;
  PlotLine line{curve, {}};
  const auto end_line = [&] {
    if (line.points.size() > 1) plot.lines.push_back(line);
    line.points.clear();
  };
  const CurvePoint* before = nullptr;
  for (const CurvePoint& point : f.curve) {
    const auto value = value_of(point, curve);
    if (before && is_across_gap(f, *before, point)) end_line();
    before = &point;
    if (value && *value >= scale.low() && *value <= scale.high()) {
      line.points.push_back({scales.minutes.at(minutes_of(point.seconds, f)), scale.at(*value)});
    } else {
      end_line();
    }
  }
  end_line();
}

PlotBox time_box(double start, double end, const CycleFindings& f, const Scales& scales,
                 const PlotBox& area) {
  const double from = scales.minutes.at(minutes_of(start, f));
  return {from, area.y, scales.minutes.at(minutes_of(end, f)) - from, area.height};
}

void add_boxes(const CycleFindings& f, const CycleLimits& limits, const Scales& scales, CyclePlot& plot) {
  const PlotBox& area = plot.area;
  if (f.exposure) {
    plot.exposure = time_box(f.exposure->start_seconds, f.exposure->end_seconds, f, scales, area);
  }
  for (const core::Gap& gap : f.gaps) {
    plot.gaps.push_back(time_box(gap.start_seconds, gap.end_seconds, f, scales, area));
  }
  const double bottom = limits.set_celsius, top = limits.set_celsius + limits.band_kelvin;
  if (bottom > scales.celsius.low() && top <= scales.celsius.high()) {
    const double y = scales.celsius.at(top);
    plot.band = PlotBox{area.x, y, area.width, scales.celsius.at(bottom) - y};
  }
}

void add_phases(const CycleFindings& f, const Scales& scales, CyclePlot& plot) {
  for (const core::PhaseSpan& span : f.phases) {
    const PlotBox box = time_box(span.start_seconds, span.end_seconds, f, scales, plot.area);
    const auto number = static_cast<std::size_t>(span.phase);
    std::string label = number < plot.texts.phases.size() ? plot.texts.phases[number] : "";
    if (static_cast<double>(label.size()) * kLetterMm > box.width) label.clear();
    plot.phases.push_back({box.x, box.x + box.width, std::move(label)});
  }
}

std::size_t as_many_as(double length_mm, double each_mm) {
  return static_cast<std::size_t>(std::max(2.0, length_mm / each_mm));
}

}  // namespace

CyclePlotTexts cycle_plot_texts(const Words& words, const CycleFindings& findings,
                                const core::Details& details) {
  const auto& exposure = findings.exposure;
  const core::Details figures{{"minutes", fixed(minutes_of(findings.end_seconds, findings), 1)},
                              {"exposure", fixed(exposure ? exposure->minutes() : 0, 1)},
                              {"low", fixed(exposure ? exposure->low_celsius : findings.low_celsius, 1)},
                              {"high", fixed(exposure ? exposure->high_celsius : findings.high_celsius, 1)}};
  const auto say = [&words](const char* key) { return words.text(key); };
  return {words.text("cycle-plot.title", details),
          words.text(exposure ? "cycle-plot.description" : "cycle-plot.description-unexposed", figures),
          say("cycle-plot.time-axis"),
          say("cycle-plot.temperature-axis"),
          say("cycle-plot.pressure-axis"),
          say("cycle-plot.temperature"),
          say("cycle-plot.pressure"),
          say("cycle-plot.saturation"),
          say("cycle-plot.band"),
          say("cycle-plot.exposure"),
          say("cycle-plot.gap"),
          {say("cycle-phase.air-removal"), say("cycle-phase.heating"), say("cycle-phase.plateau"),
           say("cycle-phase.exhaust"), say("cycle-phase.drying")}};
}

CyclePlot lay_out_cycle(const CycleFindings& findings, const CycleLimits& limits, const CyclePlotTexts& texts,
                        const CyclePlotSize& size) {
  CyclePlot plot;
  plot.size = {std::max(size.width_mm, 140.0), std::max(size.height_mm, 50.0)};
  plot.texts = texts;
  plot.area = {kLeft, kAbove, plot.size.width_mm - kLeft - kRight, plot.size.height_mm - kAbove - kBelow};
  const Scales scales = scales_of(findings, limits, plot.area);
  add_boxes(findings, limits, scales, plot);
  add_phases(findings, scales, plot);
  for (PlotCurve curve : {PlotCurve::Pressure, PlotCurve::Temperature, PlotCurve::Saturation}) {
    add_curve(findings, curve, scales, plot);
  }
  plot.time_ticks = scales.minutes.ticks(kMinuteSteps, as_many_as(plot.area.width, 12));
  plot.temperature_ticks = scales.celsius.ticks(kCelsiusSteps, as_many_as(plot.area.height, 8));
  if (highest_kpa(findings) > 0) {
    plot.pressure_ticks = scales.kpa.ticks(kKpaSteps, as_many_as(plot.area.height, 8));
  }
  return plot;
}

}  // namespace loadlight::report
