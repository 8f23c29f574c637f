// Fonts and symbols simple enough to reckon with by hand.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "loadlight/label/press.h"
#include "loadlight/port/symbol_encoder.h"

namespace loadlight::tests {

// Every byte is half an em wide and reaches from 0.7 em above the baseline to 0.2 em below. Lines break
// at single spaces. No font has "~"; text that begins with "<" runs right to left.
class PlainGauge final : public label::TextGauge {
 public:
  core::Result<label::TextLine> measure(std::string_view text, label::TextStyle style) const override {
    if (text.find('~') != std::string_view::npos) {
      return core::Failure{
          core::FailureCode::GlyphMissing, {{"character", "~"}, {"code-point", "U+007E"}}, {}};
    }
    const double em = style.em_mm();
    return label::TextLine{std::string{text}, static_cast<double>(text.size()) * em / 2, 0.7 * em, 0.2 * em,
                           !text.empty() && text.front() == '<'};
  }

  core::Result<std::vector<label::TextLine>> break_lines(std::string_view text, label::TextStyle style,
                                                         double width, label::BreakAt where) const override {
    const auto room = static_cast<std::size_t>(width / (style.em_mm() / 2) + 1e-9);
    std::vector<label::TextLine> lines;
    while (!text.empty()) {
      const std::size_t length = length_of_line(text, room, where);
      lines.push_back(*measure(text.substr(0, length), style));
      text.remove_prefix(length);
      if (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    }
    return lines;
  }

 private:
  static std::size_t length_of_line(std::string_view text, std::size_t room, label::BreakAt where) {
    if (text.size() <= room) return text.size();
    const std::size_t space = text.rfind(' ', room);
    if (space != std::string_view::npos && space > 0) return space;
    if (where == label::BreakAt::AnyCharacter) return room > 0 ? room : 1;
    return std::min(text.find(' '), text.size());
  }
};

// Grids without a dark module; picks mask 5.
class BlankEncoder final : public port::SymbolEncoder {
 public:
  core::Result<core::SymbolGrid> encode(std::string_view, int version, core::ErrorCorrection level,
                                        std::optional<int> mask) const override {
    const core::SymbolForm form{version, level, mask.value_or(5)};
    const auto side = static_cast<std::size_t>(form.side());
    return core::SymbolGrid{form, std::vector<std::uint8_t>(side * side)};
  }
};

}  // namespace loadlight::tests
