#include "app/plot_drawing.h"

#include <type_traits>
#include <variant>

#include "app/curve_strokes.h"
#include "app/page_text.h"

namespace loadlight::app {
namespace {

using core::Result;
using label::DrawnFrame;
using label::DrawnLine;
using report::CyclePlot;
using report::PlotBox;
using report::PlotCurve;

constexpr label::TextStyle kStyle{6.5, false, false};
constexpr double kReduction = 0.05;  // millimetres, as all below
constexpr double kThin = 0.15;
constexpr double kPhaseRise = 3.6;  // of the phases' brackets over the area
constexpr double kAxisTitles = 7.2;
constexpr double kSample = 8;  // of a legend's entry
constexpr double kLegendPitch = 3.6;

StrokeStyle style_of(PlotCurve curve) {
  switch (curve) {
    case PlotCurve::Temperature:
      return {0.45, 0, 0};
    case PlotCurve::Saturation:
      return {0.35, 0.35, 0.75};
    case PlotCurve::Pressure:
      return {0.18, 1.8, 0.8};
  }
  return {};
}

class PlotPen final {
 public:
  PlotPen(const CyclePlot& plot, const label::TextGauge& gauge)
      : plot_(plot), gauge_(gauge), up_(plot.area.y - kAxisTitles), area_(plot.area) {
    area_.y -= up_;
  }

  Result<Drawing> draw() {
    grounds();
    for (const report::PlotLine& piece : plot_.lines) curve(piece);
    if (auto done = phases(); !done) return done.failure();
    if (auto done = axes(); !done) return done.failure();
    if (auto done = legend(); !done) return done.failure();
    return std::move(drawing_);
  }

 private:
  double right() const { return area_.x + area_.width; }
  double bottom() const { return area_.y + area_.height; }
  PlotBox lifted(PlotBox box) const { return {box.x, box.y - up_, box.width, box.height}; }

  void line(double x1, double y1, double x2, double y2, double width) {
    drawing_.items.emplace_back(DrawnLine{x1, y1, x2, y2, width});
  }
  void frame(const PlotBox& b, double stroke) {
    drawing_.items.emplace_back(DrawnFrame{b.x, b.y, b.width, b.height, stroke});
  }
  void all(const std::vector<DrawnLine>& lines) {
    drawing_.items.insert(drawing_.items.end(), lines.begin(), lines.end());
  }

  // At `x`, from it or ending there, with its baseline at `y`. Yields its width.
  Result<double> text(const std::string& words, double x, double y, double part_before = 0) {
    auto set = set_text(words, kStyle, 1000, gauge_);
    if (!set) return set.failure();
    if (set->lines.empty()) return 0.0;
    const label::TextLine& only = set->lines.front();
    drawing_.items.emplace_back(label::DrawnText{x - part_before * only.width, y, kStyle, only.text});
    return only.width;
  }

  void grounds() {
    if (plot_.band) all(hatching(lifted(*plot_.band), 1.4, 0.08));
    for (const PlotBox& gap : plot_.gaps) all(hatching(lifted(gap), 0.7, 0.12));
    if (!plot_.exposure) return;
    const double from = plot_.exposure->x, to = from + plot_.exposure->width;
    for (double x : {from, to}) line(x, area_.y, x, bottom(), kThin);
    line(from, area_.y + 0.5, to, area_.y + 0.5, 1.0);
  }

  void curve(const report::PlotLine& piece) {
    std::vector<report::PlotPoint> points = reduced(piece.points, kReduction);
    for (report::PlotPoint& point : points) point.y -= up_;
    all(strokes_of(points, style_of(piece.curve)));
  }

  Result<void> phases() {
    const double top = area_.y - kPhaseRise;
    for (const report::PlotPhase& phase : plot_.phases) {
      line(phase.start, top, phase.end, top, kThin);
      for (double x : {phase.start, phase.end}) line(x, top, x, area_.y, kThin);
      const auto done = text(phase.label, (phase.start + phase.end) / 2, area_.y - 1.1, 0.5);
      if (!done) return done.failure();
    }
    return {};
  }

  Result<void> ticks() {
    for (const auto& tick : plot_.time_ticks) {
      line(tick.at, bottom(), tick.at, bottom() + 0.8, kThin);
      if (auto done = text(tick.label, tick.at, bottom() + 3.4, 0.5); !done) return done.failure();
    }
    for (const auto& tick : plot_.temperature_ticks) {
      line(area_.x - 0.8, tick.at - up_, area_.x, tick.at - up_, kThin);
      if (auto done = text(tick.label, area_.x - 1.4, tick.at - up_ + 0.8, 1); !done) return done.failure();
    }
    for (const auto& tick : plot_.pressure_ticks) {
      line(right(), tick.at - up_, right() + 0.8, tick.at - up_, kThin);
      if (auto done = text(tick.label, right() + 1.4, tick.at - up_ + 0.8); !done) return done.failure();
    }
    return {};
  }

  Result<void> axes() {
    frame(area_, kThin);
    if (auto done = ticks(); !done) return done;
    const double above = area_.y - kPhaseRise - 1.2;
    if (auto done = text(plot_.texts.temperature_axis, area_.x - 9, above); !done) return done.failure();
    if (!plot_.pressure_ticks.empty()) {
      const auto done = text(plot_.texts.pressure_axis, right() + 9, above, 1);
      if (!done) return done.failure();
    }
    const auto done = text(plot_.texts.time_axis, area_.x + area_.width / 2, bottom() + 6.4, 0.5);
    return done ? Result<void>{} : done.failure();
  }

  // A legend's entries stand from left to right, behind a piece of what they name.
  Result<void> entry(const std::string& words, auto sample) {
    const auto set = set_text(words, kStyle, 1000, gauge_);
    if (!set) return set.failure();
    const double width = kSample + 1.2 + (set->lines.empty() ? 0 : set->lines.front().width);
    if (legend_x_ > area_.x && legend_x_ + width > right() + 9) {
      legend_x_ = area_.x;
      legend_y_ += kLegendPitch;
    }
    sample(PlotBox{legend_x_, legend_y_ - 2, kSample, 2.2});
    const auto done = text(words, legend_x_ + kSample + 1.2, legend_y_);
    legend_x_ += width + 4;
    return done ? Result<void>{} : done.failure();
  }
  Result<void> curve_entry(PlotCurve of, const std::string& words) {
    return entry(words, [&](const PlotBox& box) {
      const double y = box.y + box.height / 2;
      all(strokes_of({{box.x, y}, {box.x + box.width, y}}, style_of(of)));
    });
  }
  Result<void> hatched_entry(double distance, double width, const std::string& words) {
    return entry(words, [&](const PlotBox& box) {
      all(hatching(box, distance, width));
      frame(box, 0.1);
    });
  }
  Result<void> exposure_entry() {
    return entry(plot_.texts.exposure, [&](const PlotBox& box) {
      line(box.x, box.y + 0.5, box.x + box.width, box.y + 0.5, 1.0);
      for (double x : {box.x, box.x + box.width}) line(x, box.y, x, box.y + box.height, kThin);
    });
  }

  Result<void> legend() {
    legend_x_ = area_.x;
    legend_y_ = bottom() + 10.6;
    Result<void> done = curve_entry(PlotCurve::Temperature, plot_.texts.temperature);
    if (done && !plot_.pressure_ticks.empty()) {
      done = curve_entry(PlotCurve::Saturation, plot_.texts.saturation);
      if (done) done = curve_entry(PlotCurve::Pressure, plot_.texts.pressure);
    }
    if (done && plot_.band) done = hatched_entry(1.4, 0.08, plot_.texts.band);
    if (done && plot_.exposure) done = exposure_entry();
    if (done && !plot_.gaps.empty()) done = hatched_entry(0.7, 0.12, plot_.texts.gap);
    drawing_.height = legend_y_ + 1.5;
    return done;
  }

  const CyclePlot& plot_;
  const label::TextGauge& gauge_;
  const double up_;  // how much of the plot's top is left out
  PlotBox area_;
  double legend_x_ = 0, legend_y_ = 0;
  Drawing drawing_;
};

struct Mover final {
  double x, y;

  void operator()(label::DrawnText& text) const {
    text.x += x;
    text.baseline += y;
  }
  void operator()(DrawnLine& line) const {
    line.x1 += x;
    line.x2 += x;
    line.y1 += y;
    line.y2 += y;
  }
  void operator()(DrawnFrame& frame) const {
    frame.x += x;
    frame.y += y;
  }
  // A plot has none of these.
  void operator()(label::DrawnSymbol&) const {}
  void operator()(label::DrawnPicture&) const {}
  void operator()(label::DrawnOutline&) const {}
};

}  // namespace

Result<Drawing> draw_plot(const CyclePlot& plot, const label::TextGauge& gauge) {
  return PlotPen{plot, gauge}.draw();
}

void place(Drawing drawing, double x, double y, label::Page& page) {
  for (label::Drawn& item : drawing.items) {
    std::visit(Mover{x, y}, item);
    page.items.push_back(std::move(item));
  }
}

}  // namespace loadlight::app
