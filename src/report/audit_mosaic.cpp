#include "report/audit_mosaic.h"

#include <algorithm>

#include "loadlight/report/mark_shape.h"
#include "report/audit_texts.h"
#include "report/plot_scale.h"

namespace loadlight::report {
namespace {

constexpr double kThinOfWidth = 1.0 / 620;  // the thinnest stroke, of the picture's longer side
constexpr double kHalo = 2.2;  // thinnest strokes of white beside every stroke, both sides together
constexpr double kNumberOfWidth = 1.0 / 62;
constexpr double kDigitEms = 0.6;

constexpr double kSignSize = 20;
constexpr double kSignEdge = 3.6;

std::string class_of(core::Outcome outcome) {
  return "mark " + std::string{core::to_text(outcome)};
}

std::string path_of(const MarkStroke& stroke) {
  std::string path;
  for (const auto& [x, y] : stroke.points) {
    path += (path.empty() ? "M" : "L") + fixed(x, 1) + " " + fixed(y, 1);
  }
  return path + (stroke.closed ? "Z" : "");
}

std::string dashes_of(const MarkStroke& stroke) {
  std::string dashes;
  for (const double length : stroke.dashes) dashes += (dashes.empty() ? "" : " ") + fixed(length, 1);
  return dashes.empty() ? "none" : dashes;
}

void write_stroke(Html& html, const MarkStroke& stroke) {
  html.element("path", "",
               {{"d", path_of(stroke)},
                {"stroke-width", fixed(stroke.width, 2)},
                {"stroke-dasharray", dashes_of(stroke)}});
}

void write_strokes(Html& html, const MarkShape& shape, double thin) {
  html.open("g", {{"class", "halo"}});
  for (MarkStroke stroke : shape.strokes) {
    stroke.width += kHalo * thin;
    stroke.dashes.clear();
    write_stroke(html, stroke);
  }
  html.close("g").open("g", {{"class", "ink"}});
  for (const MarkStroke& stroke : shape.strokes) write_stroke(html, stroke);
  html.close("g");
}

// On a plate of its own over the outline's top left corner, kept within the picture.
void write_number(Html& html, const std::string& number, const MarkShape& shape,
                  const AuditPicture& picture) {
  const double size = std::max(picture.width, picture.height) * kNumberOfWidth;
  const double width = size * (kDigitEms * static_cast<double>(number.size()) + 0.5), height = size * 1.2;
  const double x = std::clamp(shape.label.first, 0.0, std::max(0.0, picture.width - width));
  const double y = std::max(shape.label.second, height);
  html.element("rect", "",
               {{"x", fixed(x, 1)},
                {"y", fixed(y - height, 1)},
                {"width", fixed(width, 1)},
                {"height", fixed(height, 1)}});
  html.element("text", number,
               {{"x", fixed(x + width / 2, 1)},
                {"y", fixed(y - size * 0.25, 1)},
                {"font-size", fixed(size, 1)},
                {"text-anchor", "middle"}});
}

void write_mark(Html& html, const AuditPicture& picture, const AuditPicture::Mark& mark,
                const AuditFacts& facts, const Words& words) {
  const AuditRow& row = facts.rows[mark.row];
  const double thin = std::max(picture.width, picture.height) * kThinOfWidth;
  const MarkField field{static_cast<double>(picture.width), static_cast<double>(picture.height), thin};
  const MarkShape shape = mark_shape(mark.corners, row.outcome, field);
  if (shape.strokes.empty()) return;
  const std::string number = std::to_string(mark.row + 1);
  html.open("a", {{"href", "#row-" + number}, {"class", class_of(row.outcome)}});
  html.element("title", words.text("audit.report.mark-alt", {{"number", number},
                                                             {"outcome", outcome_text(row, words)},
                                                             {"contents", row.contents}}));
  write_strokes(html, shape, thin);
  write_number(html, number, shape, picture);
  html.close("a");
}

core::Details where_of(const AuditPicture& picture, const Words& words) {
  return {{"where", frame_text(picture.frame, picture.file, words)},
          {"count", std::to_string(picture.marks.size())}};
}

}  // namespace

void write_sign(Html& html, core::Outcome outcome) {
  const double far = kSignSize - kSignEdge;
  const MarkShape shape =
      mark_shape({{{kSignEdge, kSignEdge}, {far, kSignEdge}, {far, far}, {kSignEdge, far}}}, outcome,
                 {kSignSize, kSignSize, 1.1});
  html.open("svg", {{"class", "sign"}, {"viewBox", "0 0 20 20"}, {"aria-hidden", "true"}});
  for (const MarkStroke& stroke : shape.strokes) write_stroke(html, stroke);
  html.close("svg");
}

void write_picture(Html& html, const AuditPicture& picture, const AuditFacts& facts, const Words& words) {
  html.open("figure").open("div", {{"class", "sweep"}});
  const std::string width = std::to_string(picture.width), height = std::to_string(picture.height);
  html.open("img", {{"src", jpeg_data_uri(picture.jpeg)},
                    {"width", width},
                    {"height", height},
                    {"alt", words.text("audit.report.picture-alt", where_of(picture, words))}});
  html.open("svg", {{"viewBox", "0 0 " + width + " " + height}});
  for (const AuditPicture::Mark& mark : picture.marks) {
    if (mark.row < facts.rows.size()) write_mark(html, picture, mark, facts, words);
  }
  html.close("svg").close("div");
  html.element("figcaption", picture_caption(picture, words));
  html.close("figure");
}

}  // namespace loadlight::report
