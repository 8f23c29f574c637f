// The test page: where a printer's print lies and which nudge brings it back.
#include <cmath>
#include <string>

#include "label/text_check.h"
#include "label/text_fit.h"
#include "loadlight/label/layout.h"

namespace loadlight::label {
namespace {

constexpr double kThin = 0.1;       // millimetres, as all below
constexpr double kCrossArm = 3;     // from its centre to an end
constexpr double kTick = 1.5;
constexpr double kFiveTick = 2.5;
constexpr double kTenTick = 4;
constexpr double kNumberPoints = 5;
constexpr double kSlack = 1e-6;

class TestPage final {
 public:
  TestPage(const Grid& grid, double nudge_x, double nudge_y, const Words& words, const TextGauge& gauge)
      : grid_(grid), nudge_x_(nudge_x), nudge_y_(nudge_y), words_(words), gauge_(gauge) {
    page_.width = grid.page_width;
    page_.height = grid.page_height;
  }

  core::Result<Page> make() {
    outline_cells();
    if (auto done = rule_edges(); !done) return done.failure();
    if (auto done = mark_crosses(); !done) return done.failure();
    if (auto done = explain(); !done) return done.failure();
    return std::move(page_);
  }

 private:
  void line(double x1, double y1, double x2, double y2) {
    page_.items.emplace_back(DrawnLine{x1 + nudge_x_, y1 + nudge_y_, x2 + nudge_x_, y2 + nudge_y_, kThin});
  }

  void outline_cells() {
    for (int number = 1; number <= grid_.cells(); ++number) {
      const Box cell = grid_.cell(number).moved(nudge_x_, nudge_y_);
      page_.items.emplace_back(DrawnFrame{cell.x, cell.y, cell.width, cell.height, kThin});
    }
  }

  core::Result<void> text(std::string_view words, double size, double x, double baseline) {
    const TextStyle style{size, false, false};
    const auto line = gauge_.measure(words, style);
    if (!line) return line.failure();
    page_.items.emplace_back(DrawnText{x + nudge_x_, baseline + nudge_y_, style, line->text});
    return {};
  }

  static double tick(int millimetre) {
    if (millimetre % 10 == 0) return kTenTick;
    return millimetre % 5 == 0 ? kFiveTick : kTick;
  }

  // A tick every millimetre, a number every centimetre.
  core::Result<void> rule_edges() {
    for (int at = 0; at <= grid_.page_width + kSlack; ++at) {
      line(at, 0, at, tick(at));
      if (at == 0 || at % 10 != 0) continue;
      if (auto done = text(std::to_string(at), kNumberPoints, at + 0.3, kTenTick + 0.4); !done) return done;
    }
    for (int at = 0; at <= grid_.page_height + kSlack; ++at) {
      line(0, at, tick(at), at);
      if (at == 0 || at % 10 != 0) continue;
      if (auto done = text(std::to_string(at), kNumberPoints, kTenTick + 0.4, at - 0.3); !done) return done;
    }
    return {};
  }

  // How far from the edges the crosses stand: whole centimetres, half of one on a narrow roll.
  double inset() const { return std::min(grid_.page_width, grid_.page_height) < 60 ? 10 : 20; }

  core::Result<void> cross(double x, double y) {
    line(x - kCrossArm, y, x + kCrossArm, y);
    line(x, y - kCrossArm, x, y + kCrossArm);
    const std::string at = std::to_string(std::lround(x)) + ", " + std::to_string(std::lround(y));
    return text(at, kNumberPoints, x + 0.5, y - 0.5);
  }

  // The last whole centimetre that is `inset` or more from the far edge; the near one if there is none.
  double far(double length) const {
    return std::max(inset(), std::floor((length - inset()) / 10 + kSlack) * 10);
  }

  core::Result<void> mark_crosses() {
    for (double y : {inset(), far(grid_.page_height)}) {
      if (auto done = cross(inset(), y); !done) return done;
      if (far(grid_.page_width) == inset()) continue;
      if (auto done = cross(far(grid_.page_width), y); !done) return done;
    }
    return {};
  }

  core::Result<void> explain() {
    const std::string at = std::to_string(std::lround(inset()));
    double top = inset() + kCrossArm + 1;
    for (std::string_view key : {"label.test-page.title", "label.test-page.scale", "label.test-page.measure",
                                 "label.test-page.nudge", "label.test-page.again"}) {
      const auto words = words_(key, {{"x", at}, {"y", at}});
      if (!words || !is_label_text(*words)) {
        return core::Failure{core::FailureCode::WordsUnreadable, {{"key", std::string{key}}}, {}};
      }
      if (auto done = paragraph(*words, top); !done) return done;
    }
    return {};
  }

  // What finds no room on a small roll is left out: rulers and crosses say it without words.
  core::Result<void> paragraph(const std::string& words, double& top) {
    const double left = kTenTick + 4;
    const double width = std::min(grid_.page_width - left - 2, 120.0);
    const double height = grid_.page_height - top - 1;
    TextShape shape;
    shape.size_pt = grid_.page_width < 80 ? 5.5 : 9;
    shape.min_pt = shape.size_pt;
    shape.lines = 20;
    const auto block = fit_text(words, shape, width, height, gauge_);
    if (!block) return block.failure();
    if (!*block) return {};
    for (DrawnText& drawn : set_in(**block, Box{left, top, width, height}.moved(nudge_x_, nudge_y_),
                                   Align::Start, Upright::Top)) {
      page_.items.emplace_back(std::move(drawn));
    }
    top += (*block)->height + 0.5 * shape.size_pt * kMillimetresPerPoint;
    return {};
  }

  const Grid& grid_;
  const double nudge_x_;
  const double nudge_y_;
  const Words& words_;
  const TextGauge& gauge_;
  Page page_;
};

}  // namespace

core::Result<Page> lay_out_test_page(const LabelTemplate& label_template, double nudge_x, double nudge_y,
                                     const Words& words, const TextGauge& gauge) {
  if (!(std::abs(nudge_x) <= kWidestNudge) || !(std::abs(nudge_y) <= kWidestNudge)) {
    return core::Failure{core::FailureCode::BadValue, {{"field", "nudge"}}, {}};
  }
  return TestPage{label_template.grid, nudge_x, nudge_y, words, gauge}.make();
}

}  // namespace loadlight::label
