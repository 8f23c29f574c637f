// What both fronts open before they call a use case: an office with its zone, the print shop, the words.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "loadlight/app/ports.h"
#include "loadlight/app/world.h"
#include "loadlight/report/words.h"

namespace loadlight::app {

// An office with everything a use case takes.
struct OpenOffice final {
  OfficeLeaves leaves;
  std::unique_ptr<port::Zone> zone;
  Ports ports;
};

// The press and the templates, likewise. The words must live as long.
struct OpenShop final {
  PrintingLeaves leaves;
  PrintShop shop;
};

core::Result<std::unique_ptr<OpenOffice>> open_office(const World& world, const std::string& folder);
// Adds zone and ports to an office that was opened or made.
core::Result<std::unique_ptr<OpenOffice>> dress_office(const World& world, OfficeLeaves leaves);
core::Result<std::unique_ptr<OpenShop>> open_shop(const World& world, const report::Words& words);

// A template of templates/labels: TemplateUnknown or BadTemplate.
core::Result<label::LabelTemplate> find_template(const World& world, std::string_view name);

// The catalogue of a language, such as "en": WordsUnreadable.
core::Result<report::Words> load_words(const World& world, std::string_view language);

}  // namespace loadlight::app
