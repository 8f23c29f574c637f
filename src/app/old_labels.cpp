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

// Nothing when it cannot be told: the store failed, the template is gone, or the corners span no plane. Of a
// label that is not in the record no more is known than its symbol.
std::optional<label::Quad> area_of(const port::Unit& unit, const CheckRequest& request,
                                   const core::PackageId& id, const label::Quad& corners) {
  const auto package = unit.packages().find(id);
  if (!package) return std::nullopt;
  if (!*package || !request.find_template) return label::bare_symbol_area(corners);
  const auto run = unit.print_runs().find((**package).print_run);
  if (!run || !*run) return std::nullopt;
  const auto form = request.find_template((**run).template_name);
  return form ? area_by_template(*form, **package, (**run).dpi, corners) : std::nullopt;
}

}  // namespace

std::vector<std::optional<bool>> find_old_labels(const port::Unit& unit, const CheckRequest& request) {
  std::vector<std::size_t> placed;  // items that name a package and have a place in the picture
  std::vector<std::optional<core::PackageId>> ids;
  std::vector<std::optional<label::Quad>> areas;
  for (const CheckItem& item : request.items) {
    ids.push_back(name_package(item).id);
    areas.emplace_back();
    if (!ids.back() || !item.corners) continue;
    placed.push_back(ids.size() - 1);
    areas.back() = area_of(unit, request, *ids.back(), *item.corners);
  }
  std::vector<std::optional<bool>> found(request.items.size(), false);
  for (const std::size_t i : placed) {
    for (const std::size_t j : placed) {
      if (*ids[i] == *ids[j]) continue;
      if (!areas[i] || !areas[j]) {
        if (found[i] == false) found[i].reset();
      } else if (label::overlap(*areas[i], *areas[j]) > kOverlapThatCounts) {
        found[i] = true;
      }
    }
  }
  return found;
}

}  // namespace loadlight::app
