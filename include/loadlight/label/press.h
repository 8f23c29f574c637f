// What a laid-out page consists of, and what layout needs done for it by somebody who has fonts: text
// measured (TextGauge), pages turned into a document (Press) or shown (Painter). Implemented by render.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/result.h"
#include "loadlight/core/symbol.h"

namespace loadlight::label {

inline constexpr double kMillimetresPerInch = 25.4;
inline constexpr double kMillimetresPerPoint = kMillimetresPerInch / 72;

struct TextStyle final {
  double size_pt = 8;
  bool bold = false;
  bool mono = false;

  double em_mm() const { return size_pt * kMillimetresPerPoint; }
};

// One line of text as it will be drawn. Lengths in millimetres.
struct TextLine final {
  std::string text;      // UTF-8, in logical order
  double width = 0;      // how far the pen moves
  double ink_above = 0;  // how far ink reaches above the baseline; 0 if it does not
  double ink_below = 0;  // and below it
  bool right_to_left = false;
};

enum class BreakAt { Words, AnyCharacter };

class TextGauge {
 public:
  virtual ~TextGauge() = default;

  // `text` on a single line.
  virtual core::Result<TextLine> measure(std::string_view text, TextStyle style) const = 0;
  // `text` broken into lines of at most `width` millimetres, where that is possible at words.
  virtual core::Result<std::vector<TextLine>> break_lines(std::string_view text, TextStyle style,
                                                          double width, BreakAt where) const = 0;
  // Both fail with GlyphMissing, details "character" and "code-point", when no installed font has a
  // character. Text must be UTF-8 without control characters. Thread-safe.
};

struct DrawnText final {
  double x = 0;         // left end, millimetres
  double baseline = 0;  // millimetres
  TextStyle style;
  std::string text;
};
// A symbol in whole printer dots from the page's top left.
struct DrawnSymbol final {
  core::SymbolGrid grid;
  int dpi = 300;
  int x_dots = 0;  // of its dark area, without the quiet zone
  int y_dots = 0;
  int module_dots = 4;
};
struct DrawnLine final {
  double x1 = 0, y1 = 0, x2 = 0, y2 = 0;  // millimetres
  double width = 0.2;
};
struct DrawnFrame final {
  double x = 0, y = 0, width = 0, height = 0;  // millimetres; the stroke runs along the edge
  double stroke = 0.2;
};
// A photograph, stretched over the box; left out when its bytes are no whole JPEG file.
struct DrawnPicture final {
  double x = 0, y = 0, width = 0, height = 0;  // millimetres
  std::string jpeg;                            // a JPEG file's bytes, grey levels or colours
  int pixels_wide = 0;
  int pixels_high = 0;
};
enum class Ink { Black, White };
// A closed outline. Its strokes, from solid to dotted, are lengths of ink and gap in millimetres; none: solid.
struct DrawnOutline final {
  std::vector<std::pair<double, double>> points;  // millimetres
  double stroke = 0.4;
  std::vector<double> dashes;
  bool filled = false;
  Ink ink = Ink::Black;
};
using Drawn = std::variant<DrawnText, DrawnSymbol, DrawnLine, DrawnFrame, DrawnPicture, DrawnOutline>;

struct Page final {
  double width = 0;  // millimetres
  double height = 0;
  std::vector<Drawn> items;
};

class Press {
 public:
  virtual ~Press() = default;

  // The pages as a PDF, every font embedded. The same pages and instant give the same bytes in any run
  // and any locale. Thread-safe.
  virtual core::Result<std::string> print(const std::vector<Page>& pages, core::Instant made) const = 0;
};

// Shows a page on a screen.
class Painter {
 public:
  virtual ~Painter() = default;

  // The page as a PNG on white paper, its longer side `longest` pixels, 1 to kMostPixels; photographs are left
  // out. Thread-safe.
  static constexpr int kMostPixels = 2400;
  virtual core::Result<std::string> paint(const Page& page, int longest) const = 0;
};

}  // namespace loadlight::label
