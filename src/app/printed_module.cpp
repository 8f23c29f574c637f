#include "app/printed_module.h"

#include <algorithm>

#include "loadlight/label/symbol_choice.h"

namespace loadlight::app {

std::optional<double> printed_module(const port::Unit& unit, const CheckRequest& templates,
                                     const core::PackageId& id) {
  if (!templates.find_template) return std::nullopt;
  const auto package = unit.packages().find(id);
  if (!package || !*package) return std::nullopt;
  const auto run = unit.print_runs().find((**package).print_run);
  if (!run || !*run) return std::nullopt;
  const auto form = templates.find_template((**run).template_name);
  if (!form) return std::nullopt;
  for (const label::Element& element : form->elements) {
    const auto* place = std::get_if<label::SymbolPlace>(&element.what);
    if (!place || place->payload != label::SymbolPayload::Package) continue;
    const double side = std::min(element.box.width, element.box.height);
    const auto fit = label::fit_symbol((**package).symbol, side, (**run).dpi);
    return fit ? std::optional{fit->module_millimetres((**run).dpi)} : std::nullopt;
  }
  return std::nullopt;
}

}  // namespace loadlight::app
