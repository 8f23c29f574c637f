// Draws one label into its cell.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "label/text_fit.h"
#include "loadlight/label/layout.h"

namespace loadlight::label {

// What composing labels shares, beside the label itself.
struct Bench final {
  const LabelTemplate& label_template;
  int dpi;
  const Words& words;
  const TextGauge& gauge;
  const port::SymbolEncoder& encoder;
};

// Holds references: `bench`, `content` and `page` must outlive it. Used once.
class CellComposer final {
 public:
  // `corner_x`, `corner_y`: the cell's top left on the page, with the nudge.
  CellComposer(const Bench& bench, const LabelContent& content, double corner_x, double corner_y, Page& page)
      : bench_(bench), content_(content), corner_x_(corner_x), corner_y_(corner_y), page_(page) {}

  // Draws the label and notes its symbols' forms in `placed`. On failure the page is half-drawn.
  core::Result<void> compose(PlacedLabel& placed);

  const std::vector<LayoutWarning>& warnings() const { return warnings_; }

 private:
  using Done = core::Result<void>;

  Done check_values() const;
  Done check_shelf_life() const;
  Done compose(const Element& element, PlacedLabel& placed);
  Done compose_field(const Element& element, const FieldText& text);
  Done compose_words(const Element& element, const FixedWords& words);
  Done compose_symbol(const Element& element, const SymbolPlace& place, PlacedLabel& placed);
  Done place_symbol(const Box& box, std::string_view text, std::optional<core::SymbolForm>& form, int& dots);
  void draw_symbol(const Box& box, core::SymbolGrid grid, int module_dots);

  // Sets `text` in `box`; `name` is what a failure or a warning calls it. The baseline of its first line
  // on the page, or nothing when it was left out.
  using Set = core::Result<std::optional<double>>;
  Set set_text(std::string_view text, const TextShape& shape, const Box& box, std::string_view name);
  Set no_room(const TextShape& shape, std::string_view name);
  Done set_under_heading(const Element& element, const FieldText& text, std::string_view value);
  Done set_after_heading(const Element& element, const FieldText& text, std::string_view value);
  core::Result<std::string> words_of(std::string_view key) const;

  Box on_page(const Box& box) const { return box.moved(corner_x_, corner_y_); }
  bool leaves_page(const Box& box) const;
  std::string label_name() const;
  core::Failure named(core::Failure failure, std::string_view field) const;

  const Bench& bench_;
  const LabelContent& content_;
  double corner_x_;
  double corner_y_;
  Page& page_;
  std::vector<LayoutWarning> warnings_;
};

}  // namespace loadlight::label
