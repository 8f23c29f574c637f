// The format of a template file (templates/labels/NAME.label): lines of words, in ASCII.
//
//   file       = header { statement }               "#" starts a comment that ends with its line
//   header     = "loadlight-label" "1"              the form of this grammar
//   statement  = for | sheet | roll | region | end | text | words | symbol | line | frame
//   for        = "for" ( "package" | "shelf-tag" | "tray-card" | "badge" )            exactly once
//   sheet      = "sheet" page=W,H grid=COLUMNS,ROWS first=X,Y pitch=X,Y cell=W,H      this or roll, once
//   roll       = "roll" cell=W,H                    a page of one cell
//   region     = "region" NAME box                  a part that comes off; until "end", boxes count from
//   end        = "end"                              its corner and must lie in it
//   text       = "text" FIELD box shape [heading=above|before [heading-size=PT]]
//   words      = "words" KEY box shape              a fixed text of the words catalogue
//   symbol     = "symbol" ( "package" | "chart-copy" | "shelf-tag" | "badge" ) box    quiet zone included
//   line       = "line" box [width=MM]              from the box's top left to its bottom right
//   frame      = "frame" box [width=MM]
//   box        = box=X,Y,W,H                        in the cell (or region), from its top left
//   shape      = size=PT [min=PT] [lines=N] [align=start|center|end] [upright=top|middle|bottom]
//                [bold] [mono] [optional]
//
// Millimetres and points, written plainly: 12 or 0.25. FIELD is a code of the field table (fields.h). A
// field that the rules require must be placed outside every region and cannot be optional. Nothing may
// overlap a symbol's box.
#include <algorithm>
#include <cmath>

#include "label/template_checks.h"
#include "label/template_statement.h"
#include "loadlight/label/template.h"

namespace loadlight::label {
namespace {

constexpr double kLongest = 1000;  // millimetres
constexpr double kLargestFont = 200;

struct Draft final {
  LabelTemplate made;
  bool has_subject = false;
  bool has_grid = false;
  std::optional<std::size_t> region;  // the open one
};

using Outcome = std::optional<ProblemAt>;

Box read_box(StatementReader& reader, const Draft& draft) {
  const auto [x, y, width, height] = reader.numbers<4>("box", 0, kLongest);
  if (!draft.region) return {x, y, width, height};
  const Box& around = draft.made.regions[*draft.region].box;
  if (x + width > around.width + kSlackMm || y + height > around.height + kSlackMm) {
    reader.fail(TemplateProblem::OutsideCell, draft.made.regions[*draft.region].name);
  }
  return Box{x, y, width, height}.moved(around.x, around.y);
}

TextShape read_shape(StatementReader& reader) {
  TextShape shape;
  shape.size_pt = reader.numbers<1>("size", 1, kLargestFont)[0];
  shape.min_pt = reader.number_or("min", shape.size_pt, 1, shape.size_pt);
  shape.lines = reader.whole_or("lines", 1, 1, 20);
  shape.align = static_cast<Align>(reader.choice_or_first("align", {"start", "center", "end"}));
  shape.upright = static_cast<Upright>(reader.choice_or_first("upright", {"top", "middle", "bottom"}));
  shape.bold = reader.flag("bold");
  shape.mono = reader.flag("mono");
  shape.optional = reader.flag("optional");
  return shape;
}

template <class What>
void add(Draft& draft, StatementReader& reader, What what) {
  const Box box = read_box(reader, draft);
  draft.made.elements.push_back({box, draft.region, std::move(what)});
}

Outcome read_for(Draft& draft, const Statement& statement) {
  if (draft.has_subject) return ProblemAt{TemplateProblem::StatementRepeated, statement.line, "for"};
  const auto subject = parse_subject(statement.subject);
  if (!subject) {
    return ProblemAt{TemplateProblem::ValueUnknown, statement.line, std::string{statement.subject}};
  }
  draft.made.subject = *subject;
  draft.has_subject = true;
  return StatementReader{statement}.finish();
}

Outcome read_sheet(Draft& draft, const Statement& statement) {
  if (draft.has_grid) return ProblemAt{TemplateProblem::StatementRepeated, statement.line, "sheet"};
  StatementReader reader{statement};
  const auto [columns, rows] = reader.numbers<2>("grid", 1, 50);
  const auto [page_width, page_height] = reader.numbers<2>("page", 1, kLongest);
  const auto [first_x, first_y] = reader.numbers<2>("first", 0, kLongest);
  const auto [pitch_x, pitch_y] = reader.numbers<2>("pitch", 1, kLongest);
  const auto [width, height] = reader.numbers<2>("cell", 1, kLongest);
  if (columns != std::floor(columns) || rows != std::floor(rows)) {
    reader.fail(TemplateProblem::NumberExpected, "grid");
  }
  draft.made.grid = {page_width,
                     page_height,
                     static_cast<int>(columns),
                     static_cast<int>(rows),
                     first_x,
                     first_y,
                     pitch_x,
                     pitch_y,
                     width,
                     height};
  draft.has_grid = true;
  return reader.finish();
}

Outcome read_roll(Draft& draft, const Statement& statement) {
  if (draft.has_grid) return ProblemAt{TemplateProblem::StatementRepeated, statement.line, "roll"};
  StatementReader reader{statement};
  const auto [width, height] = reader.numbers<2>("cell", 1, kLongest);
  draft.made.grid = {width, height, 1, 1, 0, 0, width, height, width, height};
  draft.has_grid = true;
  return reader.finish();
}

Outcome read_region(Draft& draft, const Statement& statement) {
  if (draft.region) return ProblemAt{TemplateProblem::RegionOpen, statement.line, ""};
  if (statement.subject.empty()) return ProblemAt{TemplateProblem::ValueMissing, statement.line, "region"};
  StatementReader reader{statement};
  const Box box = read_box(reader, draft);
  draft.region = draft.made.regions.size();
  draft.made.regions.push_back({std::string{statement.subject}, box});
  return reader.finish();
}

Outcome read_end(Draft& draft, const Statement& statement) {
  if (!draft.region) return ProblemAt{TemplateProblem::RegionNotOpen, statement.line, ""};
  draft.region.reset();
  return StatementReader{statement}.finish();
}

Outcome read_text(Draft& draft, const Statement& statement) {
  StatementReader reader{statement};
  FieldText text;
  const auto field = parse_field(statement.subject);
  if (!field) reader.fail(TemplateProblem::FieldUnknown, statement.subject);
  text.field = field.value_or(Field::Contents);
  text.shape = read_shape(reader);
  text.heading = static_cast<Heading>(reader.choice_or_first("heading", {"none", "above", "before"}));
  text.heading_pt = reader.number_or("heading-size", text.heading_pt, 1, kLargestFont);
  add(draft, reader, std::move(text));
  return reader.finish();
}

Outcome read_words(Draft& draft, const Statement& statement) {
  StatementReader reader{statement};
  if (statement.subject.empty()) reader.fail(TemplateProblem::ValueMissing, "words");
  add(draft, reader, FixedWords{std::string{statement.subject}, read_shape(reader)});
  return reader.finish();
}

Outcome read_symbol(Draft& draft, const Statement& statement) {
  constexpr std::array<std::string_view, 4> kPayloads{"package", "chart-copy", "shelf-tag", "badge"};
  StatementReader reader{statement};
  const auto at = std::find(kPayloads.begin(), kPayloads.end(), statement.subject);
  if (at == kPayloads.end()) reader.fail(TemplateProblem::ValueUnknown, statement.subject);
  const auto payload = at == kPayloads.end() ? 0 : at - kPayloads.begin();
  add(draft, reader, SymbolPlace{static_cast<SymbolPayload>(payload)});
  return reader.finish();
}

Outcome read_line(Draft& draft, const Statement& statement) {
  StatementReader reader{statement};
  add(draft, reader, RuleLine{reader.number_or("width", RuleLine{}.width_mm, 0.05, 10)});
  return reader.finish();
}

Outcome read_frame(Draft& draft, const Statement& statement) {
  StatementReader reader{statement};
  add(draft, reader, Frame{reader.number_or("width", Frame{}.width_mm, 0.05, 10)});
  return reader.finish();
}

struct StatementRow final {
  std::string_view keyword;
  Outcome (*read)(Draft&, const Statement&);
};
constexpr StatementRow kStatements[] = {
    {"for", read_for},   {"sheet", read_sheet}, {"roll", read_roll},   {"region", read_region},
    {"end", read_end},   {"text", read_text},   {"words", read_words}, {"symbol", read_symbol},
    {"line", read_line}, {"frame", read_frame},
};

Outcome read_statement(Draft& draft, const Statement& statement) {
  for (const StatementRow& row : kStatements) {
    if (row.keyword == statement.keyword) return row.read(draft, statement);
  }
  return ProblemAt{TemplateProblem::StatementUnknown, statement.line, std::string{statement.keyword}};
}

Outcome read_header(const std::vector<Statement>& statements) {
  if (statements.empty() || statements.front().keyword != "loadlight-label") {
    return ProblemAt{TemplateProblem::HeaderMissing, 0, ""};
  }
  if (statements.front().subject != "1") {
    return ProblemAt{TemplateProblem::LaterForm, statements.front().line,
                     std::string{statements.front().subject}};
  }
  return StatementReader{statements.front()}.finish();
}

Outcome read_all(Draft& draft, const std::vector<Statement>& statements) {
  if (auto problem = read_header(statements)) return problem;
  for (std::size_t i = 1; i < statements.size(); ++i) {
    if (auto problem = read_statement(draft, statements[i])) return problem;
  }
  if (draft.region) return ProblemAt{TemplateProblem::RegionOpen, 0, draft.made.regions.back().name};
  if (!draft.has_subject) return ProblemAt{TemplateProblem::StatementMissing, 0, "for"};
  if (!draft.has_grid) return ProblemAt{TemplateProblem::StatementMissing, 0, "sheet"};
  return check_template(draft.made);
}

core::Failure failure_of(std::string_view name, const ProblemAt& at) {
  return {core::FailureCode::BadTemplate,
          {{"template", std::string{name}},
           {"line", std::to_string(at.line)},
           {"problem", std::string{to_text(at.problem)}},
           {"what", at.what.substr(0, 40)}},
          {}};
}

}  // namespace

core::Result<LabelTemplate> parse_template(std::string_view name, std::string_view text) {
  const StatementsOrProblem cut = cut_statements(text);
  if (const auto* problem = std::get_if<ProblemAt>(&cut)) return failure_of(name, *problem);
  Draft draft;
  draft.made.name = std::string{name};
  if (const auto problem = read_all(draft, std::get<0>(cut))) return failure_of(name, *problem);
  return std::move(draft.made);
}

}  // namespace loadlight::label
