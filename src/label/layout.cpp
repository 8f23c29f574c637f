#include "loadlight/label/layout.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "label/cell_composer.h"
#include "loadlight/label/symbol_choice.h"

namespace loadlight::label {
namespace {

using core::Failure;
using core::FailureCode;

Failure bad_value(std::string_view field) {
  return {FailureCode::BadValue, {{"field", std::string{field}}}, {}};
}

Failure outside_sheet(int cell, int cells) {
  return {
      FailureCode::CellOutsideSheet, {{"cell", std::to_string(cell)}, {"cells", std::to_string(cells)}}, {}};
}

bool is_nudge(double millimetres) {
  return std::abs(millimetres) <= kWidestNudge;
}  // NaN is none

std::optional<Failure> problem_of(const LayoutOptions& options, std::size_t labels, int cells_of_page) {
  if (options.dpi < kFewestDpi || options.dpi > kMostDpi) return bad_value("dpi");
  if (!is_nudge(options.nudge_x) || !is_nudge(options.nudge_y)) return bad_value("nudge");
  if (labels < 1 || labels > kMostLabels) return bad_value("count");
  if (options.first_cell < 1 || options.first_cell > cells_of_page) {
    return outside_sheet(options.first_cell, cells_of_page);
  }
  if (options.cells.empty()) return std::nullopt;
  const std::set<int> distinct{options.cells.begin(), options.cells.end()};
  if (options.cells.size() != labels || distinct.size() != labels) return bad_value("cells");
  if (*distinct.begin() < 1) return outside_sheet(*distinct.begin(), cells_of_page);
  if (*distinct.rbegin() > kLastCell) return outside_sheet(*distinct.rbegin(), cells_of_page);
  return std::nullopt;
}

int cell_of(const LayoutOptions& options, std::size_t label) {
  return options.cells.empty() ? options.first_cell + static_cast<int>(label) : options.cells[label];
}

// Pages by their place in the run; those without a label do not come to be.
using Pages = std::map<int, Page>;

Page& page_of(Pages& pages, int sheet, const Grid& grid) {
  Page& page = pages[sheet];
  page.width = grid.page_width;
  page.height = grid.page_height;
  return page;
}

// One warning for all labels that it holds for alike.
void add_new(std::vector<LayoutWarning>& all, const std::vector<LayoutWarning>& more) {
  const auto cause = [](const LayoutWarning& warning) {
    return std::pair{warning.code, warning.details.front()};
  };
  for (const LayoutWarning& warning : more) {
    const auto same = [&](const LayoutWarning& known) { return cause(known) == cause(warning); };
    if (std::none_of(all.begin(), all.end(), same)) all.push_back(warning);
  }
}

core::Result<void> lay_out_label(const Bench& bench, const LabelContent& content,
                                 const LayoutOptions& options, Pages& pages, PlacedLabel& placed,
                                 std::vector<LayoutWarning>& warnings) {
  const Grid& grid = bench.label_template.grid;
  placed.page = (placed.cell - 1) / grid.cells();
  const Box cell = grid.cell((placed.cell - 1) % grid.cells() + 1);
  CellComposer composer{bench, content, cell.x + options.nudge_x, cell.y + options.nudge_y,
                        page_of(pages, placed.page, grid)};
  auto done = composer.compose(placed);
  add_new(warnings, composer.warnings());
  return done;
}

// Turns sheet numbers, which may have gaps, into indices of the pages that came to be.
void gather(Pages& pages, LaidOut& laid_out) {
  std::map<int, int> index_of;
  for (auto& [sheet, page] : pages) {
    index_of[sheet] = static_cast<int>(laid_out.pages.size());
    laid_out.pages.push_back(std::move(page));
  }
  for (PlacedLabel& label : laid_out.labels) label.page = index_of[label.page];
}

}  // namespace

core::Result<LaidOut> lay_out(const LabelTemplate& label_template, const std::vector<LabelContent>& labels,
                              const LayoutOptions& options, const Words& words, const TextGauge& gauge,
                              const port::SymbolEncoder& encoder) {
  if (auto problem = problem_of(options, labels.size(), label_template.grid.cells())) return *problem;
  const Bench bench{label_template, options.dpi, words, gauge, encoder};
  Pages pages;
  LaidOut laid_out;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    PlacedLabel placed;
    placed.cell = cell_of(options, i);
    const auto done = lay_out_label(bench, labels[i], options, pages, placed, laid_out.warnings);
    if (!done) return done.failure();
    laid_out.labels.push_back(std::move(placed));
  }
  gather(pages, laid_out);
  return laid_out;
}

}  // namespace loadlight::label
