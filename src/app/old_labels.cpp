#include "app/old_labels.h"

#include "app/package_lookup.h"
#include "loadlight/label/label_area.h"
#include "loadlight/label/symbol_choice.h"

namespace loadlight::app {
namespace {

// Cells of one sheet touch; corners are found to a module or so. Labels that share more than this of the
// smaller one's area lie on one another.
constexpr double kOverlapThatCounts = 0.10;

// The modules of a symbol as printed: in the middle of its element's box.
label::Box printed_symbol(const label::Box& box, const core::Package& package, int dpi) {
  const double side = std::min(box.width, box.height);
  const auto fit = label::fit_symbol(package.symbol, side, dpi);
  if (!fit) return box;
  const double mm = fit->module_millimetres(dpi) * package.symbol.side();
  return {box.x + (box.width - mm) / 2, box.y + (box.height - mm) / 2, mm, mm};
}

std::optional<label::Quad> area_by_template(const label::LabelTemplate& form, const core::Package& package,
                                            int dpi, const label::Quad& corners) {
  for (const label::Element& element : form.elements) {
    const auto* place = std::get_if<label::SymbolPlace>(&element.what);
    if (!place || place->payload != label::SymbolPayload::Package) continue;
    const label::Box cell = element.region ? form.regions[*element.region].box
                                           : label::Box{0, 0, form.grid.cell_width, form.grid.cell_height};
    return label::label_area(printed_symbol(element.box, package, dpi), cell, corners);
  }
  return std::nullopt;
}

std::optional<label::Quad> area_of(const port::Unit& unit, const CheckRequest& request,
                                   const core::PackageId& id, const label::Quad& corners) {
  const auto package = unit.packages().find(id);
  if (package && *package && request.find_template) {
    const auto run = unit.print_runs().find((**package).print_run);
    if (run && *run) {
      const auto form = request.find_template((**run).template_name);
      if (form) {
        if (const auto area = area_by_template(*form, **package, (**run).dpi, corners)) return area;
      }
    }
  }
  return label::bare_symbol_area(corners);
}

}  // namespace

std::vector<bool> find_old_labels(const port::Unit& unit, const CheckRequest& request) {
  const std::size_t count = request.items.size();
  std::vector<std::optional<core::PackageId>> ids(count);
  std::vector<std::optional<label::Quad>> areas(count);
  for (std::size_t i = 0; i < count; ++i) {
    const CheckItem& item = request.items[i];
    ids[i] = name_package(item).id;
    if (ids[i] && item.corners) areas[i] = area_of(unit, request, *ids[i], *item.corners);
  }
  std::vector<bool> found(count, false);
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t j = i + 1; j < count; ++j) {
      if (!areas[i] || !areas[j] || *ids[i] == *ids[j]) continue;
      if (label::overlap(*areas[i], *areas[j]) > kOverlapThatCounts) found[i] = found[j] = true;
    }
  }
  return found;
}

}  // namespace loadlight::app
