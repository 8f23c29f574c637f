#include "loadlight/report/mark_shape.h"

#include <algorithm>
#include <cmath>

namespace loadlight::report {
namespace {

// The outline runs outside the symbol, so that its edge stays visible.
constexpr double kGrowth = 1.16;

// In thinnest strokes.
constexpr double kHoldStroke = 1.5;
constexpr double kHoldBar = 2.6;
constexpr double kUseNotStroke = 2.4;
constexpr double kUseNotCross = 1.6;
constexpr double kInk = 5;
constexpr double kGap = 3.2;

using Quad = std::array<MarkPoint, 4>;

bool is_finite(const Quad& quad) {
  return std::all_of(quad.begin(), quad.end(),
                     [](const MarkPoint& p) { return std::isfinite(p.first) && std::isfinite(p.second); });
}

MarkPoint between(const MarkPoint& a, const MarkPoint& b) {
  return {(a.first + b.first) / 2, (a.second + b.second) / 2};
}

Quad grown(const Quad& quad, const MarkField& field) {
  const MarkPoint middle = between(between(quad[0], quad[2]), between(quad[1], quad[3]));
  Quad out{};
  for (std::size_t i = 0; i < quad.size(); ++i) {
    out[i] = {std::clamp(middle.first + (quad[i].first - middle.first) * kGrowth, 0.0, field.width),
              std::clamp(middle.second + (quad[i].second - middle.second) * kGrowth, 0.0, field.height)};
  }
  return out;
}

MarkStroke outline(const Quad& quad, double width) {
  return {{quad.begin(), quad.end()}, true, width, {}};
}
MarkStroke line(const MarkPoint& from, const MarkPoint& to, double width) {
  return {{from, to}, false, width, {}};
}

std::vector<MarkStroke> strokes_of(const Quad& quad, core::Outcome outcome, double thin) {
  switch (outcome) {
    case core::Outcome::Clear:
      return {outline(quad, thin)};
    case core::Outcome::Hold: {
      MarkStroke dashed = outline(quad, kHoldStroke * thin);
      dashed.dashes = {kInk * thin, kGap * thin};
      return {dashed, line(between(quad[0], quad[3]), between(quad[1], quad[2]), kHoldBar * thin)};
    }
    case core::Outcome::DoNotUse:
      return {outline(quad, kUseNotStroke * thin), line(quad[0], quad[2], kUseNotCross * thin),
              line(quad[1], quad[3], kUseNotCross * thin)};
  }
  return {};
}

}  // namespace

MarkShape mark_shape(const Quad& corners, core::Outcome outcome, const MarkField& field) {
  if (!is_finite(corners) || field.width <= 0 || field.height <= 0) return {};
  const Quad quad = grown(corners, field);
  MarkShape shape{strokes_of(quad, outcome, field.thin), quad[0]};
  for (const MarkPoint& point : quad) {
    shape.label = {std::min(shape.label.first, point.first), std::min(shape.label.second, point.second)};
  }
  return shape;
}

}  // namespace loadlight::report
