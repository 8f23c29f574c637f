#include "loadlight/report/cycle_plot.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdlib>
#include <fstream>

#include "loadlight/core/steam.h"

namespace loadlight::report {
namespace {

const CyclePlotTexts kTexts{"Load S1-12 <&> \"134\"",
                            "A cycle.",
                            "Time, min",
                            "Temperature, °C",
                            "Pressure, kPa absolute",
                            "temperature",
                            "pressure",
                            "saturated steam at this pressure",
                            "the program's band",
                            "exposure credited",
                            "no readings",
                            {"air removal", "heating", "exposure", "exhaust", "drying"}};
constexpr core::CycleLimits kLimits{134, 3, 20};

// Two pulses, a hold of five minutes with a gap in it, drying: a sample a second.
core::CycleFindings findings(bool with_pressure = true, int gap_seconds = 30) {
  core::CycleSettings settings;
  settings.programmed_celsius = 134;
  core::CycleReader reader{settings};
  for (int t = 0; t < 1200; ++t) {
    if (t > 500 && t < 500 + gap_seconds) continue;
    const double pulse = 70 + 60 * std::sin(t / 24.0);
    const double kpa = t < 300 ? pulse : t < 380 ? 130 + (t - 300) * 2.3 : t < 700 ? 314 : 8;
    const double celsius = t < 700 ? *core::saturation_celsius(kpa) : 100 - t / 100.0;
    REQUIRE(reader.add({1.0 * t, celsius, with_pressure ? std::optional{kpa} : std::nullopt}));
  }
  return reader.findings();
}

bool is_inside(const PlotPoint& p, const PlotBox& box) {
  return p.x >= box.x - 1e-9 && p.x <= box.x + box.width + 1e-9 && p.y >= box.y - 1e-9 &&
         p.y <= box.y + box.height + 1e-9;
}

std::size_t times(const std::string& text, const std::string& what) {
  std::size_t count = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++count;
  return count;
}

TEST_CASE("Every curve lies within the axes and none crosses a gap") {
  const CyclePlot plot = lay_out_cycle(findings(), kLimits, kTexts);
  REQUIRE(plot.gaps.size() == 1);
  for (const PlotLine& line : plot.lines) {
    for (std::size_t i = 0; i < line.points.size(); ++i) {
      CHECK(is_inside(line.points[i], plot.area));
      if (i == 0) continue;
      const bool left = line.points[i].x <= plot.gaps[0].x + 1e-9;
      CHECK((left || line.points[i - 1].x >= plot.gaps[0].x + plot.gaps[0].width - 1e-9));
    }
  }
}

TEST_CASE("The exposure is the shaded time and the band the shaded temperature") {
  const core::CycleFindings found = findings();
  const CyclePlot plot = lay_out_cycle(found, kLimits, kTexts);
  REQUIRE(plot.exposure);
  CHECK(plot.exposure->width / plot.area.width ==
        Approx((found.exposure->end_seconds - found.exposure->start_seconds) / 1199));
  REQUIRE(plot.band);
  double at_130 = 0, at_140 = 0;
  for (const PlotTick& tick : plot.temperature_ticks) {
    if (tick.label == "120") at_130 = tick.at;
    if (tick.label == "140") at_140 = tick.at;
  }
  const double per_kelvin = (at_130 - at_140) / 20;
  CHECK(plot.band->height == Approx(3 * per_kelvin));
  CHECK(plot.band->y == Approx(at_140 + 3 * per_kelvin));
}

TEST_CASE("Ticks are round and in order on every axis") {
  const CyclePlot plot = lay_out_cycle(findings(), kLimits, kTexts);
  CHECK(plot.time_ticks.size() >= 5);
  CHECK(plot.temperature_ticks.size() >= 4);
  CHECK(plot.pressure_ticks.size() >= 4);
  CHECK(plot.time_ticks.front().label == "0");
  for (std::size_t i = 1; i < plot.time_ticks.size(); ++i)
    CHECK(plot.time_ticks[i].at > plot.time_ticks[i - 1].at);
}

TEST_CASE("A log without pressure has no pressure axis") {
  const CyclePlot plot = lay_out_cycle(findings(false), kLimits, kTexts);
  CHECK(plot.pressure_ticks.empty());
  CHECK(cycle_plot_svg(plot).find("saturated steam") == std::string::npos);
}

TEST_CASE("An empty log is drawn as axes alone") {
  const CyclePlot plot = lay_out_cycle(core::CycleReader{core::CycleSettings{}}.findings(), kLimits, kTexts);
  CHECK(plot.lines.empty());
  CHECK(cycle_plot_svg(plot).find("nan") == std::string::npos);
}

TEST_CASE("The SVG is well-formed, named and readable without colour") {
  const std::string svg = cycle_plot_svg(lay_out_cycle(findings(), kLimits, kTexts), "p1");
  CHECK(svg.find("<title id=\"p1-title\">Load S1-12 &lt;&amp;&gt; &quot;134&quot;</title>") !=
        std::string::npos);
  CHECK(svg.find("<desc id=\"p1-desc\">A cycle.</desc>") != std::string::npos);
  CHECK(times(svg, "stroke-dasharray=\"2.2 0.9\"") >= 2);   // pressure: its curve and the legend
  CHECK(times(svg, "stroke-dasharray=\"0.02 1.1\"") >= 2);  // saturation
  const std::string path = std::string{LOADLIGHT_BINARY_DIR} + "/cycle_plot_test.svg";
  std::ofstream{path, std::ios::binary} << svg;
  // A judge that is not ours: Python's expat refuses what is not well-formed XML.
  const std::string judge =
      "python3 -c \"import sys, xml.etree.ElementTree as e; r = e.parse(sys.argv[1]).getroot(); "
      "sys.exit(r.tag != '{http://www.w3.org/2000/svg}svg')\" '" +
      path + "'";
  CHECK(std::system(judge.c_str()) == 0);
}

}  // namespace
}  // namespace loadlight::report
