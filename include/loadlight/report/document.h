// A printed document before anybody knows its paper: what it says, block by block, in reading order. Texts
// are finished; how wide they run and where a page ends is the layout's affair.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "loadlight/core/reasons.h"
#include "loadlight/report/cycle_plot.h"

namespace loadlight::report {

// Never the last thing on a page.
struct Heading final {
  std::string text;
};

struct Paragraph final {
  std::string text;
  bool fine = false;  // small print: sources, remarks
};

// What the reader came for, framed: a word or two to be read at arm's length, and a line that explains.
struct Statement final {
  std::string headline;
  std::string text;
};

struct KeyValue final {
  std::string key;
  std::string value;
};
struct KeyValues final {
  std::vector<KeyValue> rows;
  std::size_t abreast = 2;  // pairs that stand side by side
};

// Figures end at the column's right side. A tick box is an empty square where the cell has any text, which
// is not shown.
enum class ColumnKind { Text, Figures, TickBox };
struct Column final {
  std::string heading;
  double weight = 1;  // its share of the table's width
  ColumnKind kind = ColumnKind::Text;
};
using TableRow = std::vector<std::string>;  // as many cells as the table has columns

// The headings are repeated where the table goes on on another page; no row is broken.
struct Table final {
  // Small print: of records that should fit a page, not of lists to work with.
  bool fine = false;
  std::string continued;  // over the headings, where the table goes on on another page
  std::vector<Column> columns;
  std::vector<TableRow> rows;
};
// The same rows, `count` of them side by side, read from left to right.
Table set_abreast(const Table& table, std::size_t count);

struct Curve final {
  CyclePlot plot;
};

// What must not be overlooked, framed, in small print.
struct Caution final {
  std::string text;
};

// Who stands for something, when, and what the name means. Pages leave room to sign by hand when `name` is
// empty.
struct Signature final {
  std::string name;
  std::string when;
  std::string meaning;
};

// A label's outline in a picture: by its outcome in shape and pattern, never by colour alone.
struct PictureMark final {
  std::array<std::pair<double, double>, 4> corners{};  // pixels, clockwise from the symbol's own top left
  core::Outcome outcome = core::Outcome::Hold;
  std::string label;  // a number of a list, beside the outline
};

// A photograph as wide as the column, or as high as fits a page.
struct MarkedPicture final {
  std::string jpeg;
  int width = 0;  // pixels of the JPEG
  int height = 0;
  std::string caption;
  std::vector<PictureMark> marks;
};

// Small pictures side by side, `abreast` in a row, read from left to right.
struct PictureGrid final {
  std::vector<MarkedPicture> pictures;
  std::size_t abreast = 4;
};

using Block = std::variant<Heading, Paragraph, Statement, KeyValues, Table, Curve, Caution, Signature,
                           MarkedPicture, PictureGrid>;

struct Document final {
  std::string title;  // also heads every further page
  std::vector<std::string> subtitles;
  std::vector<Block> blocks;
  std::string footer;  // of every page, beside its number
};

}  // namespace loadlight::report
