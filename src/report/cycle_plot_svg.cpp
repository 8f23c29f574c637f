#include <array>

#include "loadlight/report/cycle_plot.h"
#include "report/plot_scale.h"

namespace loadlight::report {
namespace {

constexpr double kTitleFontMm = 3.6;

// How a curve is drawn: dark colours of unlike hue, and dashes that tell them apart without.
struct CurveStyle final {
  const char* colour;
  double width_mm;
  const char* dashes;  // millimetres; empty: solid
};
CurveStyle style_of(PlotCurve curve) {
  switch (curve) {
    case PlotCurve::Temperature:
      return {"#a81c1c", 0.55, ""};
    case PlotCurve::Saturation:
      return {"#000000", 0.4, "0.02 1.1"};
    case PlotCurve::Pressure:
      return {"#1a4a96", 0.35, "2.2 0.9"};
  }
  return {"#000000", 0.4, ""};
}

// Text or an attribute's value; what XML cannot hold is left out.
std::string escaped(const std::string& text) {
  std::string out;
  for (char c : text) {
    if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else if (c == '>') {
      out += "&gt;";
    } else if (c == '"') {
      out += "&quot;";
    } else if (static_cast<unsigned char>(c) >= 0x20) {
      out += c;
    }
  }
  return out;
}

std::string mm(double value) {
  return fixed(value, 2);
}

class Svg final {
 public:
  explicit Svg(const std::string& id) : id_(id) {}

  Svg& raw(const std::string& markup) {
    text_ += markup;
    return *this;
  }
  void text(double x, double y, const std::string& words, const std::string& attributes = "") {
    raw("<text x=\"" + mm(x) + "\" y=\"" + mm(y) + "\"" + attributes + ">" + escaped(words) + "</text>\n");
  }
  void line(double x1, double y1, double x2, double y2, const std::string& attributes) {
    raw("<line x1=\"" + mm(x1) + "\" y1=\"" + mm(y1) + "\" x2=\"" + mm(x2) + "\" y2=\"" + mm(y2) + "\" " +
        attributes + "/>\n");
  }
  void box(const PlotBox& b, const std::string& attributes) {
    raw("<rect x=\"" + mm(b.x) + "\" y=\"" + mm(b.y) + "\" width=\"" + mm(b.width) + "\" height=\"" +
        mm(b.height) + "\" " + attributes + "/>\n");
  }
  void curve(const PlotLine& piece) {
    raw("<polyline " + curve_attributes(piece.curve) + " points=\"");
    for (const PlotPoint& point : piece.points) raw(mm(point.x) + "," + mm(point.y) + " ");
    raw("\"/>\n");
  }
  static std::string curve_attributes(PlotCurve curve) {
    const CurveStyle style = style_of(curve);
    std::string attributes = "fill=\"none\" stroke-linejoin=\"round\" stroke=\"" + std::string{style.colour} +
                             "\" stroke-width=\"" + mm(style.width_mm) + "\"";
    if (*style.dashes == '\0') return attributes;
    const bool dotted = curve == PlotCurve::Saturation;
    return attributes + " stroke-dasharray=\"" + style.dashes + "\"" +
           (dotted ? " stroke-linecap=\"round\"" : "");
  }
  std::string fill(const char* pattern) const { return "fill=\"url(#" + id_ + "-" + pattern + ")\""; }
  const std::string& id() const { return id_; }
  std::string take() { return std::move(text_); }

 private:
  std::string id_;
  std::string text_;
};

// Fine slanted lines for the band, crossing ones for gaps: both are told apart in print.
void draw_head(Svg& svg, const CyclePlot& plot) {
  const std::string width = mm(plot.size.width_mm), height = mm(plot.size.height_mm);
  svg.raw("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + width + "mm\" height=\"" + height +
          "mm\" viewBox=\"0 0 " + width + " " + height + "\" role=\"img\" aria-labelledby=\"" + svg.id() +
          "-title " + svg.id() + "-desc\" font-family=\"sans-serif\" font-size=\"" + mm(kPlotFontMm) +
          "\">\n");
  svg.raw("<title id=\"" + svg.id() + "-title\">" + escaped(plot.texts.title) + "</title>\n");
  svg.raw("<desc id=\"" + svg.id() + "-desc\">" + escaped(plot.texts.description) + "</desc>\n");
  svg.raw(
      "<defs>\n<pattern id=\"" + svg.id() +
      "-band\" width=\"1.2\" height=\"1.2\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">"
      "<line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"1.2\" stroke=\"#9a6a6a\" stroke-width=\"0.2\"/></pattern>\n");
  svg.raw(
      "<pattern id=\"" + svg.id() +
      "-gap\" width=\"1.6\" height=\"1.6\" patternUnits=\"userSpaceOnUse\">"
      "<path d=\"M0 0L1.6 1.6M1.6 0L0 1.6\" stroke=\"#555555\" stroke-width=\"0.15\"/></pattern>\n</defs>\n");
  svg.box({0, 0, plot.size.width_mm, plot.size.height_mm}, "fill=\"#ffffff\"");
}

constexpr const char* kExposureFill = "fill=\"#e6e6e6\"";
constexpr const char* kThin = "stroke=\"#000000\" stroke-width=\"0.2\"";
constexpr const char* kGrid = "stroke=\"#c4c4c4\" stroke-width=\"0.12\"";

void draw_grounds(Svg& svg, const CyclePlot& plot) {
  if (plot.exposure) svg.box(*plot.exposure, kExposureFill);
  const double right = plot.area.x + plot.area.width, bottom = plot.area.y + plot.area.height;
  for (const PlotTick& tick : plot.time_ticks) svg.line(tick.at, plot.area.y, tick.at, bottom, kGrid);
  for (const PlotTick& tick : plot.temperature_ticks) svg.line(plot.area.x, tick.at, right, tick.at, kGrid);
  if (plot.band) svg.box(*plot.band, svg.fill("band") + " stroke=\"#9a6a6a\" stroke-width=\"0.12\"");
  for (const PlotBox& gap : plot.gaps) svg.box(gap, svg.fill("gap"));
  if (!plot.exposure) return;
  for (double x : {plot.exposure->x, plot.exposure->x + plot.exposure->width}) {
    svg.line(x, plot.area.y, x, bottom, kThin);
  }
}

void draw_phases(Svg& svg, const CyclePlot& plot) {
  const double top = plot.area.y;
  for (const PlotPhase& phase : plot.phases) {
    for (double x : {phase.start, phase.end}) svg.line(x, top - 4.2, x, top, kThin);
    svg.line(phase.start, top - 4.2, phase.end, top - 4.2, kThin);
    if (phase.label.empty()) continue;
    svg.text((phase.start + phase.end) / 2, top - 1.2, phase.label, " text-anchor=\"middle\"");
  }
}

void draw_axes(Svg& svg, const CyclePlot& plot) {
  const PlotBox& a = plot.area;
  const double right = a.x + a.width, bottom = a.y + a.height, middle = a.y + a.height / 2;
  svg.box(a, std::string{"fill=\"none\" "} + kThin);
  for (const PlotTick& tick : plot.time_ticks) {
    svg.line(tick.at, bottom, tick.at, bottom + 1, kThin);
    svg.text(tick.at, bottom + 4, tick.label, " text-anchor=\"middle\"");
  }
  for (const PlotTick& tick : plot.temperature_ticks) {
    svg.line(a.x - 1, tick.at, a.x, tick.at, kThin);
    svg.text(a.x - 1.6, tick.at + 1, tick.label, " text-anchor=\"end\"");
  }
  for (const PlotTick& tick : plot.pressure_ticks) {
    svg.line(right, tick.at, right + 1, tick.at, kThin);
    svg.text(right + 1.6, tick.at + 1, tick.label);
  }
  const auto turned = [middle](double x) {
    return " text-anchor=\"middle\" transform=\"rotate(-90 " + mm(x) + " " + mm(middle) + ")\"";
  };
  svg.text(a.x + a.width / 2, bottom + 8, plot.texts.time_axis, " text-anchor=\"middle\"");
  svg.text(4, middle, plot.texts.temperature_axis, turned(4));
  if (!plot.pressure_ticks.empty()) {
    svg.text(plot.size.width_mm - 2.5, middle, plot.texts.pressure_axis, turned(plot.size.width_mm - 2.5));
  }
}

// Entries from left to right in up to three rows, each behind a piece of what it names.
class Legend final {
 public:
  Legend(Svg& svg, const CyclePlot& plot)
      : svg_(svg),
        left_(plot.area.x),
        right_(plot.area.x + plot.area.width),
        x_(left_),
        y_(plot.area.y + plot.area.height + 12.4) {}

  void curve(PlotCurve curve, const std::string& words) {
    place(words);
    svg_.line(x_, y_ - 0.9, x_ + kSampleMm, y_ - 0.9, Svg::curve_attributes(curve));
    name(words);
  }
  void ground(const std::string& attributes, const std::string& words) {
    place(words);
    svg_.box({x_, y_ - 2.2, kSampleMm, 2.6}, attributes + " stroke=\"#000000\" stroke-width=\"0.1\"");
    name(words);
  }

 private:
  static constexpr double kSampleMm = 9;

  static double width_of(const std::string& words) {
    return kSampleMm + 1.5 + static_cast<double>(words.size()) * 0.55 * kPlotFontMm + 4;
  }
  void place(const std::string& words) {
    if (x_ == left_ || x_ + width_of(words) - 4 <= right_) return;
    x_ = left_;
    y_ += 4.2;
  }
  void name(const std::string& words) {
    svg_.text(x_ + kSampleMm + 1.5, y_, words);
    x_ += width_of(words);
  }

  Svg& svg_;
  double left_, right_, x_, y_;
};

void draw_legend(Svg& svg, const CyclePlot& plot) {
  Legend legend{svg, plot};
  legend.curve(PlotCurve::Temperature, plot.texts.temperature);
  if (!plot.pressure_ticks.empty()) {
    legend.curve(PlotCurve::Saturation, plot.texts.saturation);
    legend.curve(PlotCurve::Pressure, plot.texts.pressure);
  }
  if (plot.band) legend.ground(svg.fill("band"), plot.texts.band);
  if (plot.exposure) legend.ground(kExposureFill, plot.texts.exposure);
  if (!plot.gaps.empty()) legend.ground(svg.fill("gap"), plot.texts.gap);
}

}  // namespace

std::string cycle_plot_svg(const CyclePlot& plot, const std::string& id) {
  Svg svg{id};
  draw_head(svg, plot);
  svg.text(plot.area.x, 5, plot.texts.title, " font-weight=\"bold\" font-size=\"" + mm(kTitleFontMm) + "\"");
  draw_grounds(svg, plot);
  for (const PlotLine& line : plot.lines) svg.curve(line);
  draw_phases(svg, plot);
  draw_axes(svg, plot);
  draw_legend(svg, plot);
  svg.raw("</svg>\n");
  return svg.take();
}

}  // namespace loadlight::report
