// Texts of the record set in lines for a page.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/result.h"
#include "loadlight/label/press.h"

namespace loadlight::app {

// Lines one below the other. Lengths in millimetres.
struct SetText final {
  label::TextStyle style;
  std::vector<label::TextLine> lines;

  double height() const;
  double height_of(const label::TextLine& line) const;
};

enum class Side { Start, End };  // Start: left, but right for a line that runs right to left

// `text` without what no page can show: control characters and those that turn the direction of what
// follows become spaces, bytes that are not UTF-8 question marks.
std::string legible(std::string_view text);

// Breaks at words, and within a word that is too wide for a line. A character that no font has stands as
// its code: [U+1F600]. Fails as the gauge does otherwise.
core::Result<SetText> set_text(std::string_view text, label::TextStyle style, double width,
                               const label::TextGauge& gauge);

// With its top left at (x, y); lines lie within `width`.
void draw_text(const SetText& text, double x, double y, double width, Side side, label::Page& page);

}  // namespace loadlight::app
