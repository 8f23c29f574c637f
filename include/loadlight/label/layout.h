// From a template and what each label says to pages ready for the press.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/result.h"
#include "loadlight/label/fields.h"
#include "loadlight/label/press.h"
#include "loadlight/label/template.h"
#include "loadlight/port/symbol_encoder.h"

namespace loadlight::label {

// The text of a words key with its gaps filled; nothing when the catalogue lacks the key.
using Words = std::function<std::optional<std::string>(std::string_view key, const core::Details& gaps)>;

// What one label says. Values are finished texts, UTF-8 without control characters.
struct LabelContent final {
  std::map<Field, std::string> values;
  std::string payload;        // of the package or shelf-tag symbol; unused where a template shows none
  std::string chart_payload;  // of the chart copy's symbol
  // The symbols as first printed: a reprint draws exactly these.
  std::optional<core::SymbolForm> form;
  std::optional<core::SymbolForm> chart_form;
};

inline constexpr std::size_t kMostLabels = 2000;  // in one run
inline constexpr int kLastCell = 100000;
inline constexpr double kWidestNudge = 10;  // millimetres

struct LayoutOptions final {
  int dpi = 300;       // of the stock's printer, 10 to 1200, both included
  int first_cell = 1;  // where the first label goes on a partly used sheet, 1-based, on the first page
  // When not empty: the cell of each label, as many as labels, no two alike. Cells count on across pages
  // (of 24 cells a page, 25 is the second page's first); pages without a label are left out. So a jammed
  // strip is printed again in its places.
  std::vector<int> cells;
  double nudge_x = 0;  // millimetres to the right and down, -10 to 10, both included
  double nudge_y = 0;
};

struct PlacedLabel final {
  int page = 0;                          // index in LaidOut::pages
  int cell = 1;                          // as in LayoutOptions::cells
  std::optional<core::SymbolForm> form;  // what the record keeps to draw the symbols again
  std::optional<core::SymbolForm> chart_form;
  int module_dots = 0;  // 0 where there is no symbol
  int chart_module_dots = 0;
};

// What a person should hear though the labels were laid out. Words: "label.warning.<code>".
struct LayoutWarning final {
  std::string code;  // "module-small" (dots, millimetres, dpi) or "left-out" (field); both: package
  core::Details details;
};

struct LaidOut final {
  std::vector<Page> pages;
  std::vector<PlacedLabel> labels;      // as many as given, in their order
  std::vector<LayoutWarning> warnings;  // one a cause, not one a label
};

// Fails with FieldDoesNotFit, GlyphMissing, BadEncoding (details "field", "package"), SymbolDoesNotFit,
// QuietZoneTooSmall ("package"), CellOutsideSheet ("cell"), BadValue ("field"; also a required value that
// is missing) or WordsUnreadable ("key"). Nothing is cut silently: a text stands whole or not at all.
core::Result<LaidOut> lay_out(const LabelTemplate& label_template, const std::vector<LabelContent>& labels,
                              const LayoutOptions& options, const Words& words, const TextGauge& gauge,
                              const port::SymbolEncoder& encoder);

// A page that shows how far a printer's print lies from where it should: rulers along the top and the
// left edge, the outline of every cell, crosses at whole centimetres from the edges, and words on which
// nudge to pass. It is laid out with the nudge given, so that a second print proves the first's.
core::Result<Page> lay_out_test_page(const LabelTemplate& label_template, double nudge_x, double nudge_y,
                                     const Words& words, const TextGauge& gauge);

}  // namespace loadlight::label
