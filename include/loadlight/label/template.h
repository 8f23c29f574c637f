// A label template: where on which paper a label's fields, words and symbols stand. Lengths are
// millimetres, x to the right and y down; font sizes are points (1/72 inch). The text format is described
// above its parser, src/label/template_parser.cpp.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "loadlight/core/result.h"
#include "loadlight/label/fields.h"

namespace loadlight::label {

struct Box final {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;

  double right() const { return x + width; }
  double bottom() const { return y + height; }
  Box moved(double dx, double dy) const { return {x + dx, y + dy, width, height}; }
};

enum class Align { Start, Center, End };  // Start is the right edge for text that runs right to left
enum class Upright { Top, Middle, Bottom };
enum class Heading { None, Above, Before };
enum class SymbolPayload { Package, ChartCopy, ShelfTag, Badge };

// How a text is set in its box: on one line at `size_pt`; smaller, down to `min_pt`; then on up to
// `lines` lines.
struct TextShape final {
  double size_pt = 8;
  double min_pt = 8;
  int lines = 1;
  Align align = Align::Start;
  Upright upright = Upright::Top;
  bool bold = false;
  bool mono = false;
  // Left out, with a warning, when it cannot fit; a text that is not optional is then a failure.
  bool optional = false;
};

struct FieldText final {
  Field field = Field::Contents;
  Heading heading = Heading::None;
  double heading_pt = 5;
  TextShape shape;
};
struct FixedWords final {
  std::string key;  // of the words catalogue
  TextShape shape;
};
struct SymbolPlace final {
  SymbolPayload payload = SymbolPayload::Package;  // its quiet zone lies inside the element's box
};
struct RuleLine final {
  double width_mm = 0.2;  // drawn from the box's top left to its bottom right
};
struct Frame final {
  double width_mm = 0.2;
};

struct Element final {
  Box box;  // within the cell, also for what stands in a region
  std::optional<std::size_t> region;
  std::variant<FieldText, FixedWords, SymbolPlace, RuleLine, Frame> what;
};

// A part of a cell that comes off by itself, such as the copy for a patient's chart.
struct Region final {
  std::string name;
  Box box;
};

// One page and its cells. A roll is a page with one cell.
struct Grid final {
  double page_width = 0;
  double page_height = 0;
  int columns = 1;
  int rows = 1;
  double first_x = 0;
  double first_y = 0;
  double pitch_x = 0;
  double pitch_y = 0;
  double cell_width = 0;
  double cell_height = 0;

  int cells() const { return columns * rows; }
  // The box of cell `number`, 1 to cells(), both included, row by row.
  Box cell(int number) const;
};

struct LabelTemplate final {
  std::string name;
  Subject subject = Subject::Package;
  Grid grid;
  std::vector<Region> regions;
  std::vector<Element> elements;

  bool shows(SymbolPayload payload) const;
};

// Reads a template; any bytes are safe. Fails with BadTemplate and the details "template" (the name given
// here), "line" (0 when the whole file is meant), "problem" (a code; its words are
// "template-problem.<code>") and "what" (the word in question, possibly empty).
core::Result<LabelTemplate> parse_template(std::string_view name, std::string_view text);

// Every problem code parse_template() may report.
std::vector<std::string_view> all_template_problems();

}  // namespace loadlight::label
