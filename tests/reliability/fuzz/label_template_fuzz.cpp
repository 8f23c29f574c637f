// A label template that an office wrote, and labels laid out by it.
//
// Promises: a template that is taken has paper and cells that can be, its elements lie in their cell, and what the
// rules require is placed; a refusal tells a problem that has words; a label is laid out whole and within its cell, or
// refused.
#include <algorithm>
#include <cmath>

#include "fuzz_input.h"
#include "label/plain_gauge.h"
#include "label/template_checks.h"
#include "loadlight/label/layout.h"

namespace loadlight::fuzz {
namespace {

using namespace label;

bool lies_in(const Box& box, double width, double height) {
  return box.x >= -kSlackMm && box.y >= -kSlackMm && box.right() <= width + kSlackMm &&
         box.bottom() <= height + kSlackMm;
}

void must_hold(const Grid& grid) {
  promise(grid.columns >= 1 && grid.rows >= 1 && grid.cells() >= 1, "there is a cell");
  promise(grid.page_width > 0 && grid.page_height > 0 && grid.cell_width > 0 && grid.cell_height > 0, "paper has a size");
  promise(lies_in(grid.cell(1), grid.page_width, grid.page_height), "the first cell lies on the paper");
  promise(lies_in(grid.cell(grid.cells()), grid.page_width, grid.page_height), "the last cell lies on the paper");
}

bool places(const LabelTemplate& made, Field field) {
  return std::any_of(made.elements.begin(), made.elements.end(), [&](const Element& element) {
    const auto* text = std::get_if<FieldText>(&element.what);
    return text && text->field == field && !text->shape.optional && !element.region;
  });
}

void must_hold(const LabelTemplate& made) {
  must_hold(made.grid);
  for (const Element& element : made.elements) {
    promise(lies_in(element.box, made.grid.cell_width, made.grid.cell_height), "an element lies in its cell");
    promise(!element.region || *element.region < made.regions.size(), "a region is one of the template's");
  }
  for (const Field field : all_fields()) {
    promise(need_of(field, made.subject) == Need::Optional || places(made, field), "what must be shown is placed");
  }
}

void must_hold(const core::Failure& failure) {
  promise(failure.code == core::FailureCode::BadTemplate, "a refusal is of a template");
  const auto problems = all_template_problems();
  const auto told = std::find_if(failure.details.begin(), failure.details.end(),
                                 [](const core::Detail& detail) { return detail.first == "problem"; });
  promise(told != failure.details.end() && std::find(problems.begin(), problems.end(), told->second) != problems.end(),
          "a refusal tells a problem that has words");
}

LabelContent content_of(std::size_t number) {
  LabelContent content;
  for (const Field field : all_fields()) {
    if (field != Field::EventRelated) content.values[field] = "Mirror and probe 204";
  }
  content.values[Field::Package] = number == 0 ? "ABC-DEF-GHJK" : "ABC-DEF-GHJM";
  content.payload = content.chart_payload = std::string(74, 'A');
  return content;
}

void must_lie_on(const Page& page, const Drawn& item) {
  const auto* symbol = std::get_if<DrawnSymbol>(&item);
  if (!symbol) return;
  const double dot = kMillimetresPerInch / symbol->dpi;
  const double quiet = core::kQuietZoneModules * symbol->module_dots;
  const double side = symbol->grid.form.side() * symbol->module_dots;
  promise(symbol->module_dots >= 1, "a module has a dot");
  promise((symbol->x_dots - quiet) * dot >= -dot && (symbol->y_dots - quiet) * dot >= -dot, "a quiet zone is on paper");
  promise((symbol->x_dots + side + quiet) * dot <= page.width + dot, "a quiet zone is on paper");
  promise((symbol->y_dots + side + quiet) * dot <= page.height + dot, "a quiet zone is on paper");
}

void lay_out_by(const LabelTemplate& made, int dpi) {
  const tests::PlainGauge gauge;
  const tests::BlankEncoder encoder;
  const Words words = [](std::string_view, const core::Details&) { return std::optional<std::string>{"Words"}; };
  LayoutOptions options;
  options.dpi = dpi;
  const auto laid = lay_out(made, {content_of(0), content_of(1)}, options, words, gauge, encoder);
  if (!laid) return;
  promise(laid->labels.size() == 2, "as many labels as were asked for");
  for (const Page& page : laid->pages) {
    for (const Drawn& item : page.items) must_lie_on(page, item);
  }
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  const std::string_view text = fuzz::Input{data, size}.rest();
  const auto made = label::parse_template("fuzzed", text);
  if (!made) {
    fuzz::must_hold(made.failure());
    return 0;
  }
  fuzz::must_hold(*made);
  for (const int dpi : {203, 300}) fuzz::lay_out_by(*made, dpi);
  return 0;
}
