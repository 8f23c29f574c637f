// render as a part loaded at run time: the shared object exports `loadlight_render_part`, which returns
// this table. Never unload it: the text library registers types that outlive it.
#pragma once

#include <memory>

#include "loadlight/label/press.h"
#include "loadlight/port/symbol_encoder.h"

namespace loadlight::render {

struct RenderPart final {
  std::unique_ptr<port::SymbolEncoder> (*make_symbol_encoder)();
  std::unique_ptr<label::TextGauge> (*make_text_gauge)();
  std::unique_ptr<label::Press> (*make_press)();
  std::unique_ptr<label::Painter> (*make_painter)();
};

inline constexpr const char* kRenderPartEntry = "loadlight_render_part";
using RenderPartEntry = const RenderPart* (*)();

}  // namespace loadlight::render
