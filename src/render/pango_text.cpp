#include "render/pango_text.h"

#include <cmath>

namespace loadlight::render {
namespace {

// Fonts in the order in which a character is looked for; the rest of the system's fonts come after them.
// Named one by one, because the system's own order depends on the locale.
#define LOADLIGHT_SCRIPT_FONTS                                                                       \
  "Noto Sans Arabic,Noto Sans Hebrew,Noto Sans Devanagari,Noto Sans Thai,Noto Sans Armenian,"       \
  "Noto Sans Georgian,DejaVu Sans,Droid Sans Fallback"
constexpr const char* kSansFonts = "Noto Sans," LOADLIGHT_SCRIPT_FONTS;
constexpr const char* kMonoFonts = "Noto Sans Mono,DejaVu Sans Mono,Noto Sans," LOADLIGHT_SCRIPT_FONTS;
#undef LOADLIGHT_SCRIPT_FONTS

void set_plain_drawing(PangoContext* context) {
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context, FALSE);
}

struct FreeDescription final {
  void operator()(PangoFontDescription* description) const { pango_font_description_free(description); }
};

}  // namespace

PangoText::PangoText() : fonts_(pango_cairo_font_map_new()) {
  pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(fonts_.get()), 72);  // a unit is a point
  context_.reset(pango_font_map_create_context(fonts_.get()));
  set_plain_drawing(context_.get());
  pango_context_set_language(context_.get(), pango_language_from_string("en"));
  pango_context_set_base_dir(context_.get(), PANGO_DIRECTION_WEAK_LTR);
}

LayoutHandle PangoText::layout(std::string_view text, label::TextStyle style) const {
  LayoutHandle layout{pango_layout_new(context_.get())};
  const std::unique_ptr<PangoFontDescription, FreeDescription> font{pango_font_description_new()};
  pango_font_description_set_family_static(font.get(), style.mono ? kMonoFonts : kSansFonts);
  pango_font_description_set_weight(font.get(), style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_size(font.get(), static_cast<int>(std::lround(style.size_pt * PANGO_SCALE)));
  pango_layout_set_font_description(layout.get(), font.get());
  pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
  pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
  return layout;
}

}  // namespace loadlight::render
