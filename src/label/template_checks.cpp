#include "label/template_checks.h"

#include <algorithm>

namespace loadlight::label {
namespace {

constexpr std::string_view kProblemCodes[] = {
#define ROW(name, code) code,
    LOADLIGHT_TEMPLATE_PROBLEMS(ROW)
#undef ROW
};

using Outcome = std::optional<ProblemAt>;

Outcome found(TemplateProblem problem, std::string_view what) {
  return ProblemAt{problem, 0, std::string{what}};
}

Outcome check_grid(const Grid& grid) {
  const Box last = grid.cell(grid.cells());
  if (last.right() > grid.page_width + kSlackMm || last.bottom() > grid.page_height + kSlackMm) {
    return found(TemplateProblem::CellsOutsidePage, "");
  }
  if ((grid.columns > 1 && grid.pitch_x < grid.cell_width - kSlackMm) ||
      (grid.rows > 1 && grid.pitch_y < grid.cell_height - kSlackMm)) {
    return found(TemplateProblem::CellsOverlap, "");
  }
  return std::nullopt;
}

std::string_view name_of(const Element& element) {
  if (const auto* text = std::get_if<FieldText>(&element.what)) return to_text(text->field);
  if (const auto* words = std::get_if<FixedWords>(&element.what)) return words->key;
  if (std::holds_alternative<SymbolPlace>(element.what)) return "symbol";
  return std::holds_alternative<RuleLine>(element.what) ? "line" : "frame";
}

Outcome check_inside(const LabelTemplate& made) {
  const auto outside = [&](const Box& box) {
    return box.right() > made.grid.cell_width + kSlackMm || box.bottom() > made.grid.cell_height + kSlackMm;
  };
  for (const Region& region : made.regions) {
    if (outside(region.box)) return found(TemplateProblem::OutsideCell, region.name);
  }
  for (const Element& element : made.elements) {
    if (outside(element.box)) return found(TemplateProblem::OutsideCell, name_of(element));
  }
  return std::nullopt;
}

bool places(const LabelTemplate& made, Field field) {
  return std::any_of(made.elements.begin(), made.elements.end(), [&](const Element& element) {
    const auto* text = std::get_if<FieldText>(&element.what);
    return text && text->field == field && !element.region;
  });
}

Outcome check_fields(const LabelTemplate& made) {
  for (Field field : all_fields()) {
    if (need_of(field, made.subject) != Need::Optional && !places(made, field)) {
      return found(TemplateProblem::FieldMissing, to_text(field));
    }
  }
  for (const Element& element : made.elements) {
    const auto* text = std::get_if<FieldText>(&element.what);
    if (text && text->shape.optional && need_of(text->field, made.subject) != Need::Optional) {
      return found(TemplateProblem::FieldNotOptional, to_text(text->field));
    }
  }
  return std::nullopt;
}

// Which symbol a subject must show; a tray card names no single package, so it has none.
std::optional<SymbolPayload> symbol_of(Subject subject) {
  switch (subject) {
    case Subject::Package:
      return SymbolPayload::Package;
    case Subject::ShelfTag:
      return SymbolPayload::ShelfTag;
    case Subject::TrayCard:
      return std::nullopt;
    case Subject::Badge:
      return SymbolPayload::Badge;
  }
  return std::nullopt;
}

bool is_allowed(SymbolPayload payload, const Element& element, Subject subject) {
  const bool chart = payload == SymbolPayload::ChartCopy;
  if (chart) return subject == Subject::Package && element.region.has_value();
  return symbol_of(subject) == payload;
}

Outcome check_symbols(const LabelTemplate& made) {
  std::vector<SymbolPayload> seen;
  for (const Element& element : made.elements) {
    const auto* symbol = std::get_if<SymbolPlace>(&element.what);
    if (!symbol) continue;
    if (!is_allowed(symbol->payload, element, made.subject))
      return found(TemplateProblem::SymbolForAnother, "");
    if (std::count(seen.begin(), seen.end(), symbol->payload) > 0) {
      return found(TemplateProblem::SymbolRepeated, "");
    }
    seen.push_back(symbol->payload);
  }
  const auto needed = symbol_of(made.subject);
  if (needed && !made.shows(*needed)) return found(TemplateProblem::SymbolMissing, "");
  return std::nullopt;
}

bool overlap(const Box& a, const Box& b) {
  return a.x < b.right() - kSlackMm && b.x < a.right() - kSlackMm && a.y < b.bottom() - kSlackMm &&
         b.y < a.bottom() - kSlackMm;
}

// A frame may surround a symbol's box; everything else keeps out of it.
bool covers(const Element& element, const Box& symbol) {
  const Box& box = element.box;
  const bool around = std::holds_alternative<Frame>(element.what) && box.x <= symbol.x && box.y <= symbol.y &&
                      box.right() >= symbol.right() && box.bottom() >= symbol.bottom();
  const double grown = std::holds_alternative<RuleLine>(element.what) ? 0.01 : 0;
  return !around && overlap({box.x, box.y, box.width + grown, box.height + grown}, symbol);
}

Outcome check_clear_of_symbols(const LabelTemplate& made) {
  for (const Element& symbol : made.elements) {
    if (!std::holds_alternative<SymbolPlace>(symbol.what)) continue;
    for (const Element& other : made.elements) {
      if (&other != &symbol && covers(other, symbol.box)) {
        return found(TemplateProblem::SymbolCovered, name_of(other));
      }
    }
  }
  return std::nullopt;
}

}  // namespace

std::string_view to_text(TemplateProblem problem) {
  return kProblemCodes[static_cast<std::size_t>(problem)];
}

std::vector<std::string_view> all_template_problems() {
  return {std::begin(kProblemCodes), std::end(kProblemCodes)};
}

Outcome check_template(const LabelTemplate& made) {
  for (auto check : {check_inside, check_fields, check_symbols, check_clear_of_symbols}) {
    if (auto problem = check(made)) return problem;
  }
  return check_grid(made.grid);
}

Box Grid::cell(int number) const {
  const int column = (number - 1) % columns;
  const int row = (number - 1) / columns;
  return {first_x + column * pitch_x, first_y + row * pitch_y, cell_width, cell_height};
}

bool LabelTemplate::shows(SymbolPayload payload) const {
  return std::any_of(elements.begin(), elements.end(), [&](const Element& element) {
    const auto* symbol = std::get_if<SymbolPlace>(&element.what);
    return symbol && symbol->payload == payload;
  });
}

}  // namespace loadlight::label
