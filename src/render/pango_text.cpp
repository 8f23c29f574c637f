#include "render/pango_text.h"

#include <fontconfig/fontconfig.h>
#include <pango/pangofc-fontmap.h>

#include <cmath>

namespace loadlight::render {
namespace {

constexpr std::size_t kMostLinesKept = 2000;

// Fonts in the order in which a character is looked for; the rest of the system's fonts come after them.
// Named one by one, because the system's own order depends on the locale.
#define LOADLIGHT_SCRIPT_FONTS                                                                \
  "Noto Sans Arabic,Noto Sans Hebrew,Noto Sans Devanagari,Noto Sans Thai,Noto Sans Armenian," \
  "Noto Sans Georgian,DejaVu Sans,Droid Sans Fallback"
constexpr const char* kSansFonts = "Noto Sans," LOADLIGHT_SCRIPT_FONTS;
constexpr const char* kMonoFonts = "DejaVu Sans Mono,Noto Sans," LOADLIGHT_SCRIPT_FONTS;
#undef LOADLIGHT_SCRIPT_FONTS

// A font configuration of the few fonts that most labels need: sorting through all fonts of a system
// takes longer than printing a sheet.
constexpr const char* kFewFonts = R"(<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
<dir>/usr/share/fonts</dir><dir>/usr/local/share/fonts</dir>
<cachedir>/var/cache/fontconfig</cachedir><cachedir prefix="xdg">fontconfig</cachedir>
<selectfont><rejectfont><glob>*.*</glob></rejectfont><acceptfont>
<glob>*/NotoSans-Regular.ttf</glob><glob>*/NotoSans-Bold.ttf</glob>
<glob>*/DejaVuSansMono.ttf</glob><glob>*/DejaVuSansMono-Bold.ttf</glob>
</acceptfont></selectfont></fontconfig>)";
constexpr int kFewFontsCount = 4;

struct DestroyConfig final {
  void operator()(FcConfig* config) const { FcConfigDestroy(config); }
};
using ConfigHandle = std::unique_ptr<FcConfig, DestroyConfig>;

// Null unless each of the few fonts is there exactly once.
ConfigHandle few_fonts_config() {
  ConfigHandle config{FcConfigCreate()};
  const auto* text = reinterpret_cast<const FcChar8*>(kFewFonts);
  if (!config || !FcConfigParseAndLoadFromMemory(config.get(), text, FcFalse)) return nullptr;
  if (!FcConfigBuildFonts(config.get())) return nullptr;
  const FcFontSet* fonts = FcConfigGetFonts(config.get(), FcSetSystem);
  if (fonts == nullptr || fonts->nfont != kFewFontsCount) return nullptr;
  return config;
}

// Latin, Greek, Cyrillic and their punctuation: what the few fonts hold.
bool is_common(std::string_view text) {
  const char* const end = text.data() + text.size();
  for (const char* at = text.data(); at < end; at = g_utf8_next_char(at)) {
    const gunichar c = g_utf8_get_char(at);
    if (c > 0x052f && (c < 0x2010 || c > 0x203a)) return false;
  }
  return true;
}

void set_plain_drawing(PangoContext* context) {
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context, FALSE);
}

// All fonts of the system when `config` is null.
ContextHandle make_context(FcConfig* config) {
  const std::unique_ptr<PangoFontMap, ReleaseObject> fonts{
      pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT)};
  if (config != nullptr) pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(fonts.get()), config);
  pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(fonts.get()), 72);  // a unit is a point
  ContextHandle context{pango_font_map_create_context(fonts.get())};
  set_plain_drawing(context.get());
  pango_context_set_language(context.get(), pango_language_from_string("en"));
  pango_context_set_base_dir(context.get(), PANGO_DIRECTION_WEAK_LTR);
  return context;
}

struct FreeDescription final {
  void operator()(PangoFontDescription* description) const { pango_font_description_free(description); }
};

LayoutHandle layout_in(PangoContext* context, std::string_view text, label::TextStyle style) {
  LayoutHandle layout{pango_layout_new(context)};
  const std::unique_ptr<PangoFontDescription, FreeDescription> font{pango_font_description_new()};
  pango_font_description_set_family_static(font.get(), style.mono ? kMonoFonts : kSansFonts);
  pango_font_description_set_weight(font.get(), style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_size(font.get(), static_cast<int>(std::lround(style.size_pt * PANGO_SCALE)));
  pango_layout_set_font_description(layout.get(), font.get());
  pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
  pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
  return layout;
}

}  // namespace

PangoText& PangoText::shared() {
  static PangoText* const text = new PangoText;  // never destroyed: the libraries' own ends come first
  return *text;
}

PangoContext* PangoText::context_for(std::string_view text) {
  if (!tried_few_fonts_) {
    tried_few_fonts_ = true;
    if (const auto config = few_fonts_config()) few_fonts_ = make_context(config.get());
  }
  if (few_fonts_ && is_common(text)) return few_fonts_.get();
  if (!all_fonts_) all_fonts_ = make_context(nullptr);
  return all_fonts_.get();
}

LayoutHandle PangoText::paragraph(std::string_view text, label::TextStyle style) {
  return layout_in(context_for(text), text, style);
}

PangoLayout* PangoText::one_line(std::string_view text, label::TextStyle style) {
  Key key{std::string{text}, style.size_pt, style.bold, style.mono};
  const auto known = lines_.find(key);
  if (known != lines_.end()) return known->second.get();
  if (lines_.size() >= kMostLinesKept) lines_.clear();
  return lines_.emplace(std::move(key), paragraph(text, style)).first->second.get();
}

std::mutex& text_lock() {
  static std::mutex lock;
  return lock;
}

}  // namespace loadlight::render
