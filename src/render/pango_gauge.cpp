// Measures text as PdfPress will draw it.
#include <algorithm>
#include <cstdio>
#include <exception>

#include "loadlight/render/render.h"
#include "render/pango_text.h"

namespace loadlight::render {
namespace {

using core::Failure;
using core::FailureCode;
using label::TextLine;
using label::TextStyle;

constexpr std::size_t kLongestText = 4000;  // bytes

double millimetres(int pango_units) {
  return static_cast<double>(pango_units) / PANGO_SCALE * label::kMillimetresPerPoint;
}

bool lacks_glyphs(PangoLayout* layout) {
  return pango_layout_get_unknown_glyphs_count(layout) > 0;
}

std::string code_point(std::string_view character) {
  char text[16];
  std::snprintf(text, sizeof text, "U+%04X",
                static_cast<unsigned>(
                    g_utf8_get_char_validated(character.data(), static_cast<gssize>(character.size()))));
  return text;
}

Failure glyph_missing(std::string_view text, TextStyle style) {
  for (std::size_t at = 0; at < text.size();) {
    const char* start = text.data() + at;
    const auto length = static_cast<std::size_t>(g_utf8_next_char(start) - start);
    const std::string_view character = text.substr(at, length);
    at += length;
    if (!lacks_glyphs(PangoText::shared().one_line(character, style))) continue;
    return {FailureCode::GlyphMissing,
            {{"character", std::string{character}}, {"code-point", code_point(character)}},
            {}};
  }
  return {FailureCode::GlyphMissing, {{"character", std::string{text}}, {"code-point", ""}}, {}};
}

TextLine line_of(PangoLayout* layout, std::string_view text) {
  PangoLayoutLine* line = pango_layout_get_line_readonly(layout, 0);
  PangoRectangle ink;
  PangoRectangle logical;
  pango_layout_line_get_extents(line, &ink, &logical);
  return {std::string{text}, millimetres(logical.width), std::max(0.0, millimetres(-ink.y)),
          std::max(0.0, millimetres(ink.y + ink.height)),
          pango_layout_line_get_resolved_direction(line) == PANGO_DIRECTION_RTL};
}

std::string_view without_outer_spaces(std::string_view text) {
  const auto first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

class PangoGauge final : public label::TextGauge {
 public:
  core::Result<TextLine> measure(std::string_view text, TextStyle style) const override {
    return guarded<TextLine>([&] { return measured(text, style); });
  }

  core::Result<std::vector<TextLine>> break_lines(std::string_view text, TextStyle style, double width,
                                                  label::BreakAt where) const override {
    return guarded<std::vector<TextLine>>([&] { return broken(text, style, width, where); });
  }

 private:
  template <class T, class Work>
  static core::Result<T> guarded(Work work) {
    const std::lock_guard guard{text_lock()};
    try {
      return work();
    } catch (const std::exception& error) {
      return Failure{FailureCode::Internal, {{"what", error.what()}}, {}};
    }
  }

  static bool is_settable(std::string_view text) {
    return text.size() <= kLongestText &&
           g_utf8_validate(text.data(), static_cast<gssize>(text.size()), nullptr);
  }

  core::Result<TextLine> measured(std::string_view text, TextStyle style) const {
    if (!is_settable(text)) return Failure{FailureCode::BadEncoding, {}, {}};
    PangoLayout* const layout = PangoText::shared().one_line(text, style);
    if (lacks_glyphs(layout)) return glyph_missing(text, style);
    return line_of(layout, text);
  }

  core::Result<std::vector<TextLine>> broken(std::string_view text, TextStyle style, double width,
                                             label::BreakAt where) const {
    if (!is_settable(text)) return Failure{FailureCode::BadEncoding, {}, {}};
    const LayoutHandle layout = PangoText::shared().paragraph(text, style);
    const double points = std::clamp(width / label::kMillimetresPerPoint, 0.0, 100000.0);
    pango_layout_set_width(layout.get(), static_cast<int>(points * PANGO_SCALE));
    pango_layout_set_wrap(layout.get(),
                          where == label::BreakAt::Words ? PANGO_WRAP_WORD : PANGO_WRAP_WORD_CHAR);
    std::vector<TextLine> lines;
    for (const GSList* at = pango_layout_get_lines_readonly(layout.get()); at != nullptr; at = at->next) {
      const auto* line = static_cast<const PangoLayoutLine*>(at->data);
      const auto piece = without_outer_spaces(
          text.substr(static_cast<std::size_t>(line->start_index), static_cast<std::size_t>(line->length)));
      auto measured_piece = measured(piece, style);
      if (!measured_piece) return measured_piece.failure();
      lines.push_back(*std::move(measured_piece));
    }
    return lines;
  }
};

}  // namespace

std::unique_ptr<label::TextGauge> make_text_gauge() {
  return std::make_unique<PangoGauge>();
}

}  // namespace loadlight::render
