// The front door of render: QR symbols by libqrencode, text by Pango, PDF and PNG by cairo.
#pragma once

#include <memory>

#include "loadlight/label/press.h"
#include "loadlight/port/symbol_encoder.h"

namespace loadlight::render {

std::unique_ptr<port::SymbolEncoder> make_symbol_encoder();
std::unique_ptr<label::TextGauge> make_text_gauge();
std::unique_ptr<label::Press> make_press();
std::unique_ptr<label::Painter> make_painter();

}  // namespace loadlight::render
