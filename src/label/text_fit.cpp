#include "label/text_fit.h"

#include <algorithm>
#include <cmath>

namespace loadlight::label {
namespace {

// Shares of the font size. The first two keep the baselines of neighbouring boxes in line whatever
// letters they hold; taller ink takes what it needs.
constexpr double kAscent = 0.78;
constexpr double kDescent = 0.25;
constexpr double kLinePitch = 1.17;
constexpr double kGapOfTallLines = 0.05;
constexpr double kSizeStep = 0.25;  // points
constexpr double kSlack = 1e-6;     // millimetres

TextBlock stack(std::vector<TextLine> lines, TextStyle style) {
  TextBlock block{style, std::move(lines), {}, 0};
  const double em = style.em_mm();
  double baseline = 0;
  double below = 0;
  for (const TextLine& line : block.lines) {
    const bool first = block.baselines.empty();
    const double tall = below + line.ink_above + kGapOfTallLines * em;
    baseline += first ? std::max(kAscent * em, line.ink_above) : std::max(kLinePitch * em, tall);
    block.baselines.push_back(baseline);
    below = line.ink_below;
  }
  block.height = baseline + std::max(kDescent * em, below);
  return block;
}

bool lies_in(const TextBlock& block, double width, double height) {
  const auto narrow = [&](const TextLine& line) { return line.width <= width + kSlack; };
  return block.height <= height + kSlack && std::all_of(block.lines.begin(), block.lines.end(), narrow);
}

// Sizes from `from` down to `shape.min_pt`, both included.
std::vector<double> sizes(const TextShape& shape, double from) {
  std::vector<double> all;
  for (double size = from; size > shape.min_pt + 1e-9; size -= kSizeStep) all.push_back(size);
  all.push_back(shape.min_pt);
  return all;
}

TextStyle style_at(const TextShape& shape, double size) {
  return {size, shape.bold, shape.mono};
}

// A size at which a line so wide at full size cannot be far from fitting, so that few need measuring.
double starting_size(const TextShape& shape, double width_at_full_size, double width) {
  if (width_at_full_size <= width) return shape.size_pt;
  const double fits = shape.size_pt * width / width_at_full_size;
  const double steps = std::floor((shape.size_pt - fits) / kSizeStep);
  return std::max(shape.min_pt, shape.size_pt - steps * kSizeStep);
}

using Fit = core::Result<std::optional<TextBlock>>;

Fit fit_one_line(std::string_view text, const TextShape& shape, double width, double height,
                 const TextGauge& gauge) {
  const auto full = gauge.measure(text, style_at(shape, shape.size_pt));
  if (!full) return full.failure();
  for (double size : sizes(shape, starting_size(shape, full->width, width))) {
    const auto line = gauge.measure(text, style_at(shape, size));
    if (!line) return line.failure();
    TextBlock block = stack({*line}, style_at(shape, size));
    if (lies_in(block, width, height)) return std::optional{std::move(block)};
  }
  return std::optional<TextBlock>{};
}

Fit fit_broken(std::string_view text, const TextShape& shape, double size, double width, double height,
               BreakAt where, const TextGauge& gauge) {
  auto lines = gauge.break_lines(text, style_at(shape, size), width, where);
  if (!lines) return lines.failure();
  if (lines->size() > static_cast<std::size_t>(shape.lines)) return std::optional<TextBlock>{};
  TextBlock block = stack(*std::move(lines), style_at(shape, size));
  if (!lies_in(block, width, height)) return std::optional<TextBlock>{};
  return std::optional{std::move(block)};
}

double start_of(const TextLine& line, const Box& box, Align align) {
  const bool swap = line.right_to_left && align != Align::Center;
  const bool at_end = swap ? align == Align::Start : align == Align::End;
  if (align == Align::Center) return box.x + (box.width - line.width) / 2;
  return at_end ? box.right() - line.width : box.x;
}

double top_of(const TextBlock& block, const Box& box, Upright upright) {
  switch (upright) {
    case Upright::Top:
      return box.y;
    case Upright::Middle:
      return box.y + (box.height - block.height) / 2;
    case Upright::Bottom:
      return box.bottom() - block.height;
  }
  return box.y;
}

}  // namespace

Fit fit_text(std::string_view text, const TextShape& shape, double width, double height,
             const TextGauge& gauge) {
  auto fit = fit_one_line(text, shape, width, height, gauge);
  if (!fit || fit->has_value() || shape.lines == 1) return fit;
  for (double size : sizes(shape, shape.size_pt)) {
    fit = fit_broken(text, shape, size, width, height, BreakAt::Words, gauge);
    if (!fit || fit->has_value()) return fit;
  }
  return fit_broken(text, shape, shape.min_pt, width, height, BreakAt::AnyCharacter, gauge);
}

std::vector<DrawnText> set_in(const TextBlock& block, const Box& box, Align align, Upright upright) {
  std::vector<DrawnText> drawn;
  const double top = top_of(block, box, upright);
  for (std::size_t i = 0; i < block.lines.size(); ++i) {
    const TextLine& line = block.lines[i];
    drawn.push_back({start_of(line, box, align), top + block.baselines[i], block.style, line.text});
  }
  return drawn;
}

}  // namespace loadlight::label
