// A cycle log as a drawing: temperature, pressure, the temperature of saturated steam at that pressure, the
// program's band and the exposure. First its geometry, in millimetres from the top left, for whatever draws
// it; then as SVG. Line styles differ, so that it can be read without colour.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/cycle.h"
#include "loadlight/core/cycle_criteria.h"
#include "loadlight/report/words.h"

namespace loadlight::report {

// The words on a drawing.
struct CyclePlotTexts final {
  std::string title;        // heads it
  std::string description;  // for whoever cannot see it
  std::string time_axis, temperature_axis, pressure_axis;
  std::string temperature, pressure, saturation, band, exposure, gap;  // of the legend
  std::vector<std::string> phases;                                     // by core::CyclePhase
};
// From the catalogue ("cycle-plot.…", "cycle-phase.…"). `details` fill the title's gaps; the description's
// {minutes}, {exposure}, {low}, {high} come from the findings.
CyclePlotTexts cycle_plot_texts(const Words& words, const core::CycleFindings& findings,
                                const core::Details& details);

struct CyclePlotSize final {
  double width_mm = 180;   // at least 140
  double height_mm = 100;  // at least 50
};

struct PlotPoint final {
  double x = 0;
  double y = 0;
};
struct PlotBox final {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;
};
enum class PlotCurve { Temperature, Saturation, Pressure };
// An unbroken piece of a curve: none goes across a gap.
struct PlotLine final {
  PlotCurve curve = PlotCurve::Temperature;
  std::vector<PlotPoint> points;
};
struct PlotTick final {
  double at = 0;  // along its axis
  std::string label;
};
struct PlotPhase final {
  double start = 0;
  double end = 0;
  std::string label;  // empty where it does not fit
};

struct CyclePlot final {
  CyclePlotSize size;
  CyclePlotTexts texts;
  PlotBox area;                     // what the axes enclose
  std::optional<PlotBox> band;      // the program's temperatures, over the whole width
  std::optional<PlotBox> exposure;  // its time, over the whole height
  std::vector<PlotBox> gaps;
  std::vector<PlotPhase> phases;  // above the area
  std::vector<PlotLine> lines;
  std::vector<PlotTick> time_ticks;         // from left, in minutes since the log's start
  std::vector<PlotTick> temperature_ticks;  // at the left side
  std::vector<PlotTick> pressure_ticks;     // at the right side; empty without pressures
};

inline constexpr double kPlotFontMm = 2.8;  // of every text but the title

CyclePlot lay_out_cycle(const core::CycleFindings& findings, const core::CycleLimits& limits,
                        const CyclePlotTexts& texts, const CyclePlotSize& size = {});

// A whole SVG 1.1 document's root element, without an XML declaration, so that it can also stand in a page.
// `id` begins the ids within it and must be a plain word, one for each drawing of a page.
std::string cycle_plot_svg(const CyclePlot& plot, const std::string& id = "cycle");

}  // namespace loadlight::report
