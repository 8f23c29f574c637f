#include "app/table_setter.h"

#include <algorithm>

namespace loadlight::app {
namespace {

using core::Result;
using label::TextStyle;
using report::ColumnKind;

// Millimetres.
constexpr double kGutter = 2.2;  // between two columns
constexpr double kPadding = 0.6;
constexpr double kFinePadding = 0.22;
constexpr double kRowRule = 0.06;
constexpr double kHeadRule = 0.25;
constexpr double kTickBox = 3.2;
constexpr double kAfterTable = 1;
constexpr TextStyle kHead{7, true, false};
constexpr TextStyle kCell{8.5, false, false};
constexpr TextStyle kFineCell{7.5, false, false};
constexpr TextStyle kContinued{8.5, true, false};
constexpr TextStyle kKey{7, false, false};
constexpr TextStyle kValue{8, true, false};
constexpr double kKeyShare = 0.26;

struct Slot final {
  double x = 0;  // from the table's left
  double width = 0;
  TextStyle style;
  ColumnKind kind = ColumnKind::Text;
  double padding = kFinePadding;  // above and below its text
};

struct SetRow final {
  std::vector<SetText> cells;
  double height = 0;
  double rule = 0;  // the line below; 0: none
};

double height_of(const std::vector<SetText>& cells, const std::vector<Slot>& slots) {
  double height = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const double inner = slots[i].kind == ColumnKind::TickBox ? kTickBox : cells[i].height();
    height = std::max(height, inner + 2 * slots[i].padding);
  }
  return height;
}

Result<SetRow> set_row(const report::TableRow& texts, const std::vector<Slot>& slots, PageFlow& flow) {
  SetRow row;
  for (std::size_t i = 0; i < slots.size(); ++i) {
    auto cell = flow.set(i < texts.size() ? texts[i] : "", slots[i].style, slots[i].width);
    if (!cell) return cell.failure();
    row.cells.push_back(*std::move(cell));
  }
  row.height = height_of(row.cells, slots);
  return row;
}

// A row in pieces of at most `height`; itself if it is no taller.
std::vector<SetRow> pieces_of(SetRow row, const std::vector<Slot>& slots, double height) {
  if (row.height <= height) return {std::move(row)};
  std::vector<SetRow> pieces;
  std::vector<std::size_t> next(row.cells.size());
  for (bool more = true; more;) {
    more = false;
    SetRow piece{{}, 0, row.rule};
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const auto& lines = row.cells[i].lines;
      SetText part{row.cells[i].style, {}};
      while (next[i] < lines.size() &&
             (part.lines.empty() ||
              part.height() + part.height_of(lines[next[i]]) + 2 * slots[i].padding <= height)) {
        part.lines.push_back(lines[next[i]++]);
      }
      more = more || next[i] < lines.size();
      piece.cells.push_back(std::move(part));
    }
    piece.height = height_of(piece.cells, slots);
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

void draw_cell(const SetText& cell, const Slot& slot, double y, PageFlow& flow) {
  const double x = flow.left() + slot.x;
  if (slot.kind == ColumnKind::TickBox) {
    if (cell.lines.empty()) return;
    flow.page().items.emplace_back(label::DrawnFrame{x, y + slot.padding, kTickBox, kTickBox, 0.3});
    return;
  }
  const Side side = slot.kind == ColumnKind::Figures ? Side::End : Side::Start;
  draw_text(cell, x, y + slot.padding, slot.width, side, flow.page());
}

void draw_row(const SetRow& row, const std::vector<Slot>& slots, PageFlow& flow) {
  const double y = flow.y();
  for (std::size_t i = 0; i < row.cells.size(); ++i) draw_cell(row.cells[i], slots[i], y, flow);
  flow.move_down(row.height);
  if (row.rule <= 0) return;
  flow.page().items.emplace_back(
      label::DrawnLine{flow.left(), flow.y(), flow.left() + flow.width(), flow.y(), row.rule});
}

std::vector<Slot> slots_of(const std::vector<report::Column>& columns, double width, TextStyle style) {
  double weights = 0;
  for (const report::Column& column : columns) weights += column.weight;
  const double room = width - kGutter * static_cast<double>(columns.size() - 1);
  std::vector<Slot> slots;
  double x = 0;
  for (const report::Column& column : columns) {
    const double share = room * column.weight / weights;
    slots.push_back({x, share, style, column.kind});
    x += share + kGutter;
  }
  return slots;
}

// What stands over a table's rows on each page; the heading of a column of boxes is a text.
class Head final {
 public:
  static Result<Head> of(const report::Table& table, PageFlow& flow) {
    Head head;
    report::TableRow texts;
    for (const report::Column& column : table.columns) texts.push_back(column.heading);
    head.slots_ = slots_of(table.columns, flow.width(), kHead);
    for (Slot& slot : head.slots_) {
      if (slot.kind == ColumnKind::TickBox) slot.kind = ColumnKind::Text;
    }
    auto row = set_row(texts, head.slots_, flow);
    if (!row) return row.failure();
    head.row_ = *std::move(row);
    head.row_.rule = kHeadRule;
    auto continued = flow.set(table.continued, kContinued, flow.width());
    if (!continued) return continued.failure();
    head.continued_ = *std::move(continued);
    return head;
  }

  double height() const { return row_.height; }
  double full_height() const { return continued_.height() + row_.height; }
  void draw(bool goes_on, PageFlow& flow) const {
    if (goes_on) {
      draw_text(continued_, flow.left(), flow.y(), flow.width(), Side::Start, flow.page());
      flow.move_down(continued_.height());
    }
    draw_row(row_, slots_, flow);
  }

 private:
  std::vector<Slot> slots_;
  SetRow row_;
  SetText continued_;
};

// The texts of a line of `abreast` pairs, from pair `first` on.
report::TableRow pairs_from(const report::KeyValues& values, std::size_t first, std::size_t abreast) {
  report::TableRow texts;
  for (std::size_t i = first; i < std::min(first + abreast, values.rows.size()); ++i) {
    texts.push_back(values.rows[i].key);
    texts.push_back(values.rows[i].value);
  }
  return texts;
}

std::vector<Slot> slots_of_pairs(std::size_t abreast, double width) {
  std::vector<report::Column> columns;
  for (std::size_t i = 0; i < abreast; ++i) {
    columns.push_back({"", kKeyShare, ColumnKind::Text});
    columns.push_back({"", 1 - kKeyShare, ColumnKind::Text});
  }
  std::vector<Slot> slots = slots_of(columns, width, kKey);
  for (std::size_t i = 1; i < slots.size(); i += 2) slots[i].style = kValue;
  return slots;
}

}  // namespace

Result<void> place_table(const report::Table& table, PageFlow& flow) {
  if (table.columns.empty()) return {};
  auto slots = slots_of(table.columns, flow.width(), table.fine ? kFineCell : kCell);
  for (Slot& slot : slots) slot.padding = table.fine ? kFinePadding : kPadding;
  const auto head = Head::of(table, flow);
  if (!head) return head.failure();
  bool begun = false, headed = false;
  for (const report::TableRow& texts : table.rows) {
    auto row = set_row(texts, slots, flow);
    if (!row) return row.failure();
    row->rule = kRowRule;
    for (const SetRow& piece : pieces_of(*std::move(row), slots, flow.full_height() - head->full_height())) {
      if (flow.make_room(piece.height + (headed ? 0 : head->height()))) headed = false;
      if (!headed) head->draw(begun, flow);
      begun = headed = true;
      draw_row(piece, slots, flow);
    }
  }
  flow.move_down(kAfterTable);
  return {};
}

Result<void> place_key_values(const report::KeyValues& values, PageFlow& flow) {
  const std::size_t abreast = std::max<std::size_t>(values.abreast, 1);
  const auto slots = slots_of_pairs(abreast, flow.width());
  for (std::size_t first = 0; first < values.rows.size(); first += abreast) {
    auto row = set_row(pairs_from(values, first, abreast), slots, flow);
    if (!row) return row.failure();
    for (const SetRow& piece : pieces_of(*std::move(row), slots, flow.full_height())) {
      flow.make_room(piece.height);
      draw_row(piece, slots, flow);
    }
  }
  flow.move_down(kAfterTable);
  return {};
}

}  // namespace loadlight::app
