#include "loadlight/render/part.h"

#include "loadlight/render/render.h"

extern "C" __attribute__((visibility("default"))) const loadlight::render::RenderPart*
loadlight_render_part() {
  using namespace loadlight::render;
  static const RenderPart part{make_symbol_encoder, make_text_gauge, make_press, make_painter};
  return &part;
}
