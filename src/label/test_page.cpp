// The test page: where a printer's print lies and which nudge brings it back.
#include <cmath>
#include <string>

#include "label/text_check.h"
#include "label/text_fit.h"
#include "loadlight/label/layout.h"

namespace loadlight::label {
namespace {

constexpr double kThin = 0.1;    // millimetres, as all below
constexpr double kCrossArm = 3;  // from its centre to an end
constexpr double kTick = 1.5;
constexpr double kFiveTick = 2.5;
constexpr double kTenTick = 4;
constexpr double kLeastBetweenCrosses = 25;
constexpr double kNumberPoints = 5;  // font size
constexpr double kSlack = 1e-6;

constexpr std::string_view kParagraphs[] = {"label.test-page.title", "label.test-page.scale",
                                            "label.test-page.measure", "label.test-page.nudge",
                                            "label.test-page.again"};

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

  // How far from the edges the crosses stand: two centimetres, one on a roll.
  double inset() const { return std::min(grid_.page_width, grid_.page_height) < 60 ? 10 : 20; }

  core::Result<void> cross(double x, double y) {
    line(x - kCrossArm, y, x + kCrossArm, y);
    line(x, y - kCrossArm, x, y + kCrossArm);
    const std::string at = std::to_string(std::lround(x)) + ", " + std::to_string(std::lround(y));
    return text(at, kNumberPoints, x + 0.5, y - 0.5);
  }

  // The last whole centimetre that is `inset` or more from the far edge; the near cross's place when the two
  // would stand too close.
  double far(double length) const {
    const double last = std::floor((length - inset()) / 10 + kSlack) * 10;
    return last < inset() + kLeastBetweenCrosses ? inset() : last;
  }

  // One or two places along an edge.
  std::vector<double> places(double length) const {
    if (far(length) == inset()) return {inset()};
    return {inset(), far(length)};
  }

  core::Result<void> mark_crosses() {
    for (double y : places(grid_.page_height)) {
      for (double x : places(grid_.page_width)) {
        if (auto done = cross(x, y); !done) return done;
      }
    }
    return {};
  }

  core::Result<void> explain() {
    const bool roomy = grid_.cells() > static_cast<int>(std::size(kParagraphs)) && grid_.rows > 1 &&
                       grid_.cell_width >= 50 && grid_.cell_height >= 20;
    if (!roomy) return paragraph("label.test-page.short", small_room());
    int place = 0;
    for (std::string_view key : kParagraphs) {
      if (auto done = paragraph(key, room(++place)); !done) return done;
    }
    return {};
  }

  // Where paragraph `place` (from 1) stands: a cell of its own, column by column, below the first row, whose
  // crosses and rulers it would cover.
  Box room(int place) const {
    const int below = grid_.rows - 1;
    const int column = (place - 1) / below;
    const int row = 1 + (place - 1) % below;
    const Box cell = grid_.cell(row * grid_.columns + column + 1);
    return {cell.x + 9, cell.y + 5, cell.width - 13, cell.height - 8};
  }

  Box small_room() const {
    const double top = inset() + kCrossArm + 1;
    const double left = kTenTick + 4;
    const double below = far(grid_.page_height) - kCrossArm - 1;
    const double bottom = below > top ? below : grid_.page_height - 1;  // above the second cross, if any
    return {left, top, grid_.page_width - left - 2, bottom - top};
  }

  core::Result<void> paragraph(std::string_view key, const Box& box) {
    const std::string at = std::to_string(std::lround(inset()));
    const auto words = words_(key, {{"x", at}, {"y", at}});
    if (!words || !is_label_text(*words)) {
      return core::Failure{core::FailureCode::WordsUnreadable, {{"key", std::string{key}}}, {}};
    }
    TextShape shape;
    shape.size_pt = grid_.cells() > 1 ? 9 : 7;
    shape.min_pt = 4;
    shape.lines = 20;
    const auto block = fit_paragraph(*words, shape, box);
    if (!block) return block.failure();
    if (!*block) return core::Failure{core::FailureCode::FieldDoesNotFit, {{"field", std::string{key}}}, {}};
    for (DrawnText& drawn : set_in(**block, box.moved(nudge_x_, nudge_y_), Align::Start, Upright::Top)) {
      page_.items.emplace_back(std::move(drawn));
    }
    return {};
  }

  // A paragraph breaks before it shrinks, unlike a label's field.
  core::Result<std::optional<TextBlock>> fit_paragraph(std::string_view words, TextShape shape,
                                                       const Box& box) {
    core::Result<std::optional<TextBlock>> block{std::optional<TextBlock>{}};
    for (const double least = shape.min_pt; shape.size_pt >= least; shape.size_pt -= 0.5) {
      shape.min_pt = shape.size_pt;
      block = fit_text(words, shape, box.width, box.height, gauge_);
      if (!block || block->has_value()) break;
    }
    return block;
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
